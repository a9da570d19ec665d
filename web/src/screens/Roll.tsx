// Roll: the pieces on the goods, getting shorter while one looks, never shorter than what is proved.
import { useEffect } from "preact/hooks";
import { core } from "../core/core";
import type { Derived } from "../core/answers";
import { shop, type Search } from "../shop/shop";
import { heard, progress, search } from "../state/jobs";
import { chosen, derived, entered, openJob, tell, triedLayout } from "../state/store";
import { stageOf } from "../state/places";
import { LengthField, Field } from "../parts/Field";
import { Needs } from "../parts/Needs";
import { inShownUnits, Prose, Size } from "../parts/Text";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { setField, text } from "./AtPanel";
import { Flaws } from "./Flaws";
import { FromStock, GoodsFromStock } from "./FromStock";
import { pinned, plain, RollDrawing, rollFromBack, togglePin } from "./RollDrawing";

/// The layout of a search that was looked at already: coming back to this screen does not put it in the place of the kept one.
let shownAlready: Search["layout"] = null;

export function Roll() {
  const job = openJob.value;
  const now = derived.value;
  // The newest layout of the search is looked at while it is the better one; nothing is kept without a person.
  const found = search.value?.layout ?? null;
  useEffect(() => {
    if (found && found !== shownAlready) triedLayout.value = { placements: found.placements, rounds: found.rounds ?? 0 };
    shownAlready = found;
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
        <FromStock now={now} />
        <Needs only={(f) => stageOf(f) === "roll" || stageOf(f) === "panels" || f.severity === "stop"} />
        <details>
          <summary>{words.goods}</summary>
          <GoodsFields />
          <Flaws />
          <GoodsFromStock />
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
    if (!layout) pinned.value = new Set();
    try {
      const pins = layout ? plain(layout).placements.filter((p) => pinned.value.has(p.piece)) : [];
      heard(await shop.startLayout(job.id, pins));
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
    if (kept) {
      triedLayout.value = null;
      pinned.value = new Set();
    }
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
      {(s?.layout?.bound_reason || layout?.bound_reason) && (
        <p class="hint">
          <Prose text={say.boundBecause(s?.layout?.bound_reason || layout?.bound_reason || "")} />
        </p>
      )}
      {pinned.value.size > 0 && <p class="hint">{say.pinnedCount(pinned.value.size)}</p>}
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
      <div class="row">
        <button aria-pressed={pinned.value.has(piece.id)} onClick={() => togglePin(piece.id)}>
          {pinned.value.has(piece.id) ? say.unpin : say.pin}
        </button>
      </div>
      <p class="hint">{words.moveHelp}</p>
    </section>
  );
}

/// The pieces to one scale, as they wait beside the roll.
function Waiting({ now }: { now: Derived }) {
  const largest = Math.max(1, ...now.pieces.map((p) => Math.max(p.from_face.box[2], p.from_face.box[3])));
  const scale = 200 / largest;
  return (
    <div class="side stack">
      <h2>{words.notLaidOut}</h2>
      <p>
        {now.roll?.goods} <Size of={now.roll?.usable_width ?? null} /> {words.usable}
      </p>
      <ul class="waiting">
        {now.pieces.map((p) => {
          const [x, y, w, h] = p.from_face.box;
          const pad = 3 / scale;
          return (
            <li key={p.id}>
              <svg width={w * scale + 6} height={h * scale + 6} viewBox={`${x - pad} ${y - pad} ${w + 2 * pad} ${h + 2 * pad}`} aria-hidden="true">
                <path d={p.from_face.face} fill="var(--card)" fill-rule="evenodd" stroke="var(--ink)" stroke-width="1.8" />
              </svg>
              <span>
                <b>{p.number}</b> {p.name}
                <br />
                <span class="quiet">
                  <Size of={p.along} unit={false} /> × <Size of={p.across} />
                </span>
              </span>
            </li>
          );
        })}
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
      <GoodsFromStock />
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
