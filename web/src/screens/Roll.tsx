// Roll: the pieces on the goods, getting shorter while one looks, never shorter than what is proved.
import { signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { core } from "../core/core";
import type { Derived, GivenLayout, Layout, PlacedPiece } from "../core/answers";
import { Drawing, type View } from "../draw/Drawing";
import { shop } from "../shop/shop";
import { heard, progress, search } from "../state/jobs";
import { choose, chosen, derived, entered, openJob, tell, triedLayout } from "../state/store";
import { stageOf } from "../state/places";
import { LengthField, Field } from "../parts/Field";
import { Needs } from "../parts/Needs";
import { inShownUnits, Prose, Size } from "../parts/Text";
import { words } from "../words/en";
import { setField, text } from "./AtPanel";
import { labelShare } from "./labels";

const rollFromBack = signal(false);

const plain = (layout: Layout): GivenLayout => ({
  placements: layout.placements.map(({ piece, x_um, y_um }) => ({ piece, x_um, y_um })),
  rounds: layout.rounds,
});

export function Roll() {
  const job = openJob.value;
  const now = derived.value;
  // The newest layout of the search is looked at while it is the better one; nothing is kept without a person.
  const found = search.value?.layout ?? null;
  useEffect(() => {
    if (found) triedLayout.value = { placements: found.placements, rounds: found.rounds ?? 0 };
  }, [found]);
  if (!job) return null;
  if (!job.said.goods) return <ChooseGoods />;
  return (
    <main class="bench two" id="content">
      <section class="middle" aria-label={words.stages.roll}>
        {now.pieces.length === 0 || !now.roll ? (
          <div class="side">
            <h2>{words.noPiecesYet}</h2>
            <p>{words.noPiecesHelp}</p>
          </div>
        ) : (
          <>{now.roll.layout ? <RollDrawing now={now} /> : <Waiting now={now} />}</>
        )}
        {new Set(progress.value.map((p) => p.used_mm)).size > 1 && <ProgressCurve />}
      </section>
      <aside class="side right wide-stack" tabIndex={0} aria-label={words.thisLayout}>
        <SeenFrom />
        <Facts now={now} />
        <AtPiece now={now} />
        <Needs only={(f) => stageOf(f) === "roll" || stageOf(f) === "panels" || f.severity === "stop"} />
        <details>
          <summary>{words.goods}</summary>
          <GoodsFields />
        </details>
      </aside>
    </main>
  );
}

function SeenFrom() {
  const back = rollFromBack.value;
  return (
    <section class="stack">
      <h2>{words.seenFrom}</h2>
      <span class="segments" role="group" aria-label={words.seenFrom}>
        <button aria-pressed={!back} onClick={() => (rollFromBack.value = false)}>
          {words.views.face}
        </button>
        <button aria-pressed={back} onClick={() => (rollFromBack.value = true)}>
          {words.views.back}
        </button>
      </span>
      <p class="back-word">
        <b>{(back ? words.backWord : words.faceWord).split(/[.:]/)[0]}.</b>
        {(back ? words.backWord : words.faceWord).replace(/^[^.]*\./, "")}
      </p>
    </section>
  );
}

function Facts({ now }: { now: Derived }) {
  const job = openJob.value;
  const layout = now.roll?.layout ?? null;
  const s = search.value;
  const running = s?.state === "runs" || s?.state === "waits";
  const bound = s?.layout?.bound_mm ?? layout?.bound.mm ?? 0;
  const used = layout?.used.mm ?? 0;
  const saving = bound > 0 && used > bound ? (100 * (used - bound)) / used : 0;
  const start = async () => {
    if (!job) return;
    progress.value = [];
    try {
      heard(await shop.startLayout(job.id));
    } catch (fault) {
      tell(fault instanceof Error ? fault.message : "", true);
    }
  };
  const stop = async () => {
    if (!job) return;
    try {
      heard(await shop.stopLayout(job.id));
    } catch (fault) {
      tell(fault instanceof Error ? fault.message : "", true);
    }
  };
  const keep = () => {
    if (!job || !layout) return;
    const kept = entered(words.keptLayout, job, core.keepLayout(job.text, plain(layout)));
    if (kept) triedLayout.value = null;
  };
  return (
    <section class="stack" aria-labelledby="layout">
      <h2 id="layout">
        {words.thisLayout}
        {running && <span class="settled"> · {words.searching}</span>}
      </h2>
      {layout && (
        <dl class="facts">
          <dt>{words.used}</dt>
          <dd>
            <Size of={layout.used} />
          </dd>
          <dt>{words.buy}</dt>
          <dd>
            <Size of={layout.bought} />
          </dd>
          {bound > 0 && (
            <>
              <dt>{words.cannotBeShorter}</dt>
              <dd class="settled">
                <Prose text={`${inShownUnits(bound)} ${now.units}`} />
              </dd>
              <dt>{words.couldSave}</dt>
              <dd>{saving > 0.05 ? words.atMost(saving.toFixed(1)) : words.proved}</dd>
            </>
          )}
          <dt>{words.shareOfGoods}</dt>
          <dd>{Math.round(layout.goods_share * 100)} %</dd>
        </dl>
      )}
      {s?.layout?.bound_reason && <p class="hint">{s.layout.bound_reason}</p>}
      {running && <progress max={1} value={s.done} aria-label={words.searching} style={{ width: "100%" }} />}
      <div class="row">
        {layout && triedLayout.value && (
          <button class="strong" onClick={keep}>
            {words.keepLayout}
          </button>
        )}
        {running ? (
          <button onClick={() => void stop()}>{words.stop}</button>
        ) : (
          <button class={layout ? "" : "strong"} disabled={now.pieces.length === 0} onClick={() => void start()}>
            {layout ? words.layOutAgain : words.layOut}
          </button>
        )}
        {triedLayout.value && job?.said.kept_layout && !running && (
          <button class="plain" onClick={() => (triedLayout.value = null)}>
            {words.dropLayout}
          </button>
        )}
      </div>
    </section>
  );
}

function AtPiece({ now }: { now: Derived }) {
  const piece = now.pieces.find((p) => chosen.value?.kind === "piece" && p.id === chosen.value.id);
  if (!piece) return <p class="quiet small">{words.moveHelp}</p>;
  return (
    <section class="stack" aria-labelledby="piece">
      <h2 id="piece">{words.piece(piece.number, piece.name)}</h2>
      <dl class="facts">
        <dt>{words.size}</dt>
        <dd>
          <Size of={piece.along} unit={false} /> × <Size of={piece.across} />
        </dd>
        <dt>{words.direction}</dt>
        <dd>{words.toBow}</dd>
      </dl>
      <p class="hint">{words.moveHelp}</p>
    </section>
  );
}

const um_of_mm = 1000;
/// An arrow key moves by a millimetre, with Shift by ten.
const keyStep_um = 1000;

function RollDrawing({ now }: { now: Derived }) {
  const job = openJob.value;
  const roll = now.roll;
  const layout = roll?.layout ?? null;
  const [drag, setDrag] = useState<{ piece: string; dx: number; dy: number } | null>(null);
  const from = useRef<{ x: number; y: number } | null>(null);
  const scaleNow = useRef(1);
  if (!roll || !job) return null;
  const back = rollFromBack.value;
  const bound_mm = search.value?.layout?.bound_mm ?? 0;

  const move = (piece: string, x_um: number, y_um: number) => {
    if (!layout) return;
    const moved = plain(layout);
    moved.placements = moved.placements.map((p) =>
      p.piece === piece ? { piece, x_um: Math.round(p.x_um + x_um), y_um: Math.round(p.y_um + y_um) } : p,
    );
    const answer = core.checkLayout(job.text, moved);
    if (!answer.ok || !answer.legal) {
      tell(`${words.notLegal}. ${answer.findings[0]?.says ?? ""}`, true);
      return;
    }
    triedLayout.value = moved;
  };
  // On the drawing y goes down; on the roll it goes up from the lower selvedge, and seen from the back the other way.
  const up = back ? 1 : -1;
  const release = () => {
    if (drag) move(drag.piece, drag.dx * um_of_mm, up * drag.dy * um_of_mm);
    setDrag(null);
    from.current = null;
  };
  const lines = ({ scale }: View) => {
    scaleNow.current = scale;
    return (
      <>
        <path d={roll.strip} fill="var(--goods)" stroke="var(--ink)" stroke-width="1.6" />
        {layout?.placements.map((p) => (
          <Placed
            key={p.piece}
            p={p}
            d={back ? p.back : p.face}
            moved={drag?.piece === p.piece ? drag : null}
            onDown={(e) => {
              choose("piece", p.piece);
              from.current = { x: e.clientX, y: e.clientY };
              (e.currentTarget as Element).setPointerCapture(e.pointerId);
            }}
            onMove={(e) => {
              if (!from.current) return;
              setDrag({
                piece: p.piece,
                dx: (e.clientX - from.current.x) / scaleNow.current,
                dy: (e.clientY - from.current.y) / scaleNow.current,
              });
            }}
            onUp={release}
            onKey={(e) => {
              const far = e.shiftKey ? 10 * keyStep_um : keyStep_um;
              const ways: Record<string, [number, number]> = {
                ArrowLeft: [-far, 0],
                ArrowRight: [far, 0],
                ArrowUp: [0, -up * far],
                ArrowDown: [0, up * far],
              };
              const way = ways[e.key];
              if (!way) return;
              e.preventDefault();
              move(p.piece, way[0], way[1]);
            }}
          />
        ))}
      </>
    );
  };
  const box = roll.box;
  const marks = (view: View) => (
    <>
      {layout && box && <Limit view={view} x={layout.used.mm} top={box[1]} bottom={box[1] + box[3]} says={`${inShownUnits(layout.used.mm)} ${now.units} ${words.used.toLowerCase()}`} strong />}
      {layout && box && bound_mm > 0 && <Limit view={view} x={bound_mm} top={box[1]} bottom={box[1] + box[3]} says={`${words.cannotBeShorter.toLowerCase()} ${inShownUnits(bound_mm)} ${now.units}`} />}
      {layout?.placements.map((p) => {
        // `box` is of the face; from the back the strip is turned over about its middle.
        const y = back && box ? 2 * box[1] + box[3] - p.box[1] - p.box[3] : p.box[1];
        const dx = drag?.piece === p.piece ? drag.dx : 0;
        const dy = drag?.piece === p.piece ? drag.dy : 0;
        const panel = now.panels.find((x) => x.id === p.piece);
        const down = panel ? labelShare(panel, back) : 0.5;
        const [cx, cy] = view.at([p.box[0] + p.box[2] / 2 + dx, y + p.box[3] * down + dy]);
        const name = panel?.name ?? "";
        const tall = p.box[3] * view.scale > 84;
        return (
          <g key={p.piece} pointer-events="none">
            {tall && <path d={`M${cx - 16} ${cy - 38}h30m-7 -5l7 5l-7 5`} fill="none" stroke="var(--ink-2)" stroke-width="1.6" />}
            <text class="name" x={cx} y={cy} text-anchor="middle" style={{ fontSize: "24px" }}>
              {p.number}
            </text>
            {tall && p.box[2] * view.scale > 90 && (
              <text x={cx} y={cy + 21} text-anchor="middle" style={{ fontSize: "14px" }}>
                {name}
              </text>
            )}
          </g>
        );
      })}
    </>
  );
  return (
    <Drawing
      name={words.stages.roll}
      subject={`${job.id}/roll/${back}`}
      box={box && box[2] > 0 ? box : [0, -(roll.usable_width.mm), roll.usable_width.mm * 1.4, roll.usable_width.mm]}
      seenFrom={back ? words.hook : words.seenFromFace}
      fromBack={back}
      lines={lines}
      marks={marks}
      list={
        <ul>
          {layout?.placements.map((p) => (
            <li key={p.piece}>
              <button class="plain" onClick={() => choose("piece", p.piece)}>
                <Prose text={`${words.piece(p.number, now.pieces.find((x) => x.id === p.piece)?.name ?? "")}: ${inShownUnits(p.box[0])} ${now.units} from the cut end`} />
              </button>
            </li>
          ))}
        </ul>
      }
    />
  );
}

function Placed(props: {
  p: PlacedPiece;
  d: string;
  moved: { dx: number; dy: number } | null;
  onDown: (e: PointerEvent) => void;
  onMove: (e: PointerEvent) => void;
  onUp: () => void;
  onKey: (e: KeyboardEvent) => void;
}) {
  const here = chosen.value?.kind === "piece" && chosen.value.id === props.p.piece;
  return (
    <path
      d={props.d}
      data-drag
      tabIndex={0}
      role="button"
      aria-label={words.piece(props.p.number, "")}
      aria-pressed={here}
      transform={props.moved ? `translate(${props.moved.dx} ${props.moved.dy})` : undefined}
      fill="var(--card)"
      fill-rule="evenodd"
      stroke="var(--ink)"
      stroke-width={here ? 3.4 : 1.8}
      style={{ cursor: "move" }}
      onFocus={() => choose("piece", props.p.piece)}
      onPointerDown={props.onDown}
      onPointerMove={props.onMove}
      onPointerUp={props.onUp}
      onKeyDown={props.onKey}
    />
  );
}

function Limit({ view, x, top, bottom, says, strong }: { view: View; x: number; top: number; bottom: number; says: string; strong?: boolean }) {
  const [x1, y1] = view.at([x, top]);
  const [, y2] = view.at([x, bottom]);
  return (
    <g pointer-events="none">
      <path
        d={`M${x1} ${y1 - 12}V${y2 + 8}`}
        stroke={strong ? "var(--ink)" : "var(--sea)"}
        stroke-width={strong ? 2.4 : 1.8}
        stroke-dasharray={strong ? "none" : "6 4"}
      />
      <text class="halo limit" x={x1 + (strong ? 6 : -6)} y={y1 - 16} text-anchor={strong ? "start" : "end"} style={{ fontSize: "15px", fontWeight: strong ? 600 : 400, fill: strong ? "var(--ink)" : "var(--sea)" }}>
        {says}
      </text>
    </g>
  );
}

function Waiting({ now }: { now: Derived }) {
  return (
    <div class="side stack">
      <h2>{words.notLaidOut}</h2>
      <p>
        {now.roll?.goods} <Size of={now.roll?.usable_width ?? null} /> {words.usable}
      </p>
      <ul>
        {now.pieces.map((p) => (
          <li key={p.id} style={{ padding: "6px 0" }}>
            <b>{p.number}</b> {p.name}{" "}
            <span class="quiet">
              <Size of={p.along} unit={false} /> × <Size of={p.across} />
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}

function ProgressCurve() {
  const all = progress.value;
  const bound = search.value?.layout?.bound_mm ?? 0;
  const most = Math.max(...all.map((p) => p.used_mm));
  const least = Math.min(bound || most, ...all.map((p) => p.used_mm));
  const y = (mm: number) => 10 + (64 * (most - mm)) / Math.max(most - least, 1);
  const d = all.map((p, i) => `${i === 0 ? "M" : "H"}${(6 + 420 * p.done).toFixed(1)}${i === 0 ? ` ${y(p.used_mm)}` : `V${y(p.used_mm)}`}`).join("");
  return (
    <div class="side" style={{ borderTop: "1px solid var(--rule)" }}>
      <h2>{words.lengthOverTime}</h2>
      <svg width="440" height="90" style={{ maxWidth: "100%" }} viewBox="0 0 440 90" role="img" aria-label={words.lengthOverTime}>
        <path d={d} fill="none" stroke="var(--ink)" stroke-width="2" />
        {bound > 0 && <path d={`M6 ${y(bound)}H430`} stroke="var(--sea)" stroke-width="1.8" stroke-dasharray="6 4" />}
      </svg>
    </div>
  );
}

function ChooseGoods() {
  const units = derived.value.units;
  return (
    <main class="sheet stack" id="content" style={{ maxWidth: "34rem" }}>
      <h1>{words.chooseGoods}</h1>
      <p>{words.chooseGoodsHelp}</p>
      <LengthField
        label={words.goodsWidth}
        value=""
        example={units === "in" ? "72" : "1830"}
        units={units}
        onTake={(v) => setField(words.rollWidthSaid, "/goods", "width", undefined, v)}
      />
    </main>
  );
}

function GoodsFields() {
  const job = openJob.value;
  const goods = job?.said.goods;
  if (!goods) return null;
  const units = derived.value.units;
  const length = (field: "width" | "usable_width" | "gap" | "step" | "thickness" | "length", label: string, help?: string) => (
    <LengthField
      label={label}
      value={text(goods[field])}
      {...(help ? { help } : {})}
      units={units}
      mayBeEmpty={field !== "width"}
      onTake={(v) => setField(`${label}: ${v}`, "/goods", field, goods[field], v)}
    />
  );
  return (
    <div class="stack">
      <Field label={words.goodsName} value={text(goods.name)} onTake={(v) => setField(`${words.goodsName}: ${v}`, "/goods", "name", goods.name, v)} />
      {length("width", words.goodsWidth)}
      {length("usable_width", words.goodsUsable, words.goodsUsableHelp)}
      {length("gap", words.goodsGap)}
      {length("step", words.goodsStep)}
      {length("thickness", words.goodsThickness)}
      {length("length", words.goodsLength, words.goodsLengthHelp)}
    </div>
  );
}
