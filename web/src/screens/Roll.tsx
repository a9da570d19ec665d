// Roll: the pieces on the goods, getting shorter while one looks, never shorter than what is proved.
import { Fragment } from "preact";
import { useEffect } from "preact/hooks";
import { core } from "../core/core";
import type { Derived, Layout } from "../core/answers";
import { shop } from "../shop/shop";
import { bound, heard, progress, search, unseenLayout } from "../state/jobs";
import { chosen, derived, entered, openJob, tell, triedLayout, units } from "../state/store";
import { stageOf } from "../state/places";
import { LengthField } from "../parts/Field";
import { Faults } from "../parts/Form";
import { Needs } from "../parts/Needs";
import { inShownUnits, lengthText, Prose, Size } from "../parts/Text";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { setField } from "./AtPanel";
import { Divide, isTooWide, ProposedOnPiece, widePanel } from "./Divide";
import { Fillers } from "./Fillers";
import { Flaws } from "./Flaws";
import { FromStock, GoodsFromStock } from "./FromStock";
import { GoodsFields } from "./GoodsFields";
import { chosenPanel } from "./Panels";
import { pinned, plain, RollDrawing, rollFromBack, togglePin, turnPiece } from "./RollDrawing";

export function Roll() {
  const job = openJob.value;
  const now = derived.value;
  // The newest layout of the search is looked at while it is the better one; nothing is kept without a person.
  const found = search.value?.layout ?? null;
  useEffect(() => {
    const unseen = unseenLayout();
    if (unseen) triedLayout.value = { placements: unseen.placements, rounds: unseen.rounds ?? 0 };
  }, [found]);
  if (!job) return null;
  if (!job.said.goods) return <ChooseGoods />;
  const wide = widePanel(chosenPanel(now.panels), true);
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
        {wide && <Divide key={wide.id} panel={wide} />}
        <Facts now={now} />
        <AtPiece now={now} />
        <Joints now={now} />
        <FromStock now={now} />
        <Needs only={(f) => stageOf(f) === "roll" || stageOf(f) === "panels" || f.severity === "stop"} />
        <details>
          <summary>{words.goods}</summary>
          <div class="stack">
            <GoodsFields />
            <Flaws />
            <Fillers />
            <GoodsFromStock />
          </div>
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

/// What is less than this is lost in the search's own steps; the program's kProvedWithin_mm.
const provedWithin_mm = 0.5;
const isProved = (used: number, least: number): boolean => used - least <= provedWithin_mm;
/// In %, never less than there is to gain.
const shareOf = (used: number, least: number): string => (Math.ceil((1000 * (used - least)) / used) / 10).toFixed(1);

/// A reason names pieces as the document does; a person knows them by their number.
function withNumbers(reason: string, now: Derived): string {
  const number = (id: string): string => String(now.pieces.find((p) => p.id === id)?.number ?? id);
  return reason.replace(/\b(pieces? )([^ ,]+(?:(?:, | and )[^ ,]+)*)/g, (_all, before: string, ids: string) => before + ids.replace(/[^ ,]+/g, (id) => (id === "and" ? id : number(id))));
}

function Lengths({ all }: { all: Layout["stretches"] }) {
  return (
    <dl class="facts short" aria-label={say.lengthsOfGoods}>
      {all.map((s) => (
        <Fragment key={s.name}>
          <dt>{s.name}</dt>
          <dd>{s.offcut ? say.ofOffcut : <Size of={s.used} />}</dd>
        </Fragment>
      ))}
    </dl>
  );
}

/// How far the pattern is out where two panels meet.
function Joints({ now }: { now: Derived }) {
  const roll = now.roll;
  const all = roll?.layout?.pattern_joints ?? [];
  if (!roll?.repeat || !roll.layout) return null;
  const called = (id: string) => now.pieces.find((p) => p.id === id)?.number ?? id;
  return (
    <section class="stack" aria-labelledby="pattern">
      <h2 id="pattern">{say.patternAtJoints}</h2>
      <p class="hint">{roll.repeat.carried ? say.patternCarried : say.patternFree}</p>
      {all.length === 0 && <p class="quiet">{say.noJointsMeet}</p>}
      <ul class="ticks">
        {all.map((j) => {
          const carried = j.known && j.along.mm < patternSeen_mm && j.across.mm < patternSeen_mm;
          return (
            <li key={j.first + j.second + j.at}>
              <span class={`tick${carried ? " yes" : ""}`} aria-hidden="true">
                {carried ? "✓" : ""}
              </span>
              <div>
                {say.jointOf(j.at, called(j.first), called(j.second))}
                <br />
                <span class={carried ? "settled" : ""}>
                  <Prose text={carried ? say.isCarried : j.known ? say.isOut(lengthText(j.along), lengthText(j.across), units.value) : say.notKnown} />
                </span>
              </div>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
/// Nobody sees less in a woven pattern; a cutting line is wider. Common practice.
const patternSeen_mm = 0.5;

function Facts({ now }: { now: Derived }) {
  const job = openJob.value;
  const layout = now.roll?.layout ?? null;
  const s = search.value;
  const running = s?.state === "runs" || s?.state === "waits";
  const least = bound.value;
  const used = layout?.used.mm ?? 0;
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
        <dl class="facts short">
          <dt>{words.used}</dt>
          <dd>
            <Size of={layout.used} />
          </dd>
          <dt>
            {words.buy}
            {layout.least_order && words.isLeastOrder}
          </dt>
          <dd>{layout.bought.mm > 0 ? <Size of={layout.bought} /> : words.allFromRack}</dd>
          {least && (
            <>
              <dt>{words.cannotBeShorter}</dt>
              <dd class="settled">
                <Prose text={`${inShownUnits(least.mm)} ${units.value}`} />
              </dd>
              <dt>{words.couldSave}</dt>
              <dd class={isProved(used, least.mm) ? "settled" : ""}>{isProved(used, least.mm) ? words.proved : words.atMost(shareOf(used, least.mm))}</dd>
            </>
          )}
          <dt>{words.shareOfGoods}</dt>
          <dd>{Math.round(layout.goods_share * 100)} %</dd>
        </dl>
      )}
      {layout && least?.reason && (
        <p class="hint">
          <Prose text={say.boundBecause(withNumbers(least.reason, now))} />
        </p>
      )}
      {layout && layout.stretches.length > 0 && <Lengths all={layout.stretches} />}
      {layout?.filler_words && (
        <p>
          <Prose text={say.fillersBeside(layout.filler_words)} />
        </p>
      )}
      {pinned.value.size > 0 && <p class="hint">{say.pinnedCount(pinned.value.size)}</p>}
      {s?.state === "failed" && s.fingerprint === now.layout_fingerprint && <Faults of={s.findings.filter((f) => f.severity === "stop" && !now.findings.some((said) => said.says === f.says))} />}
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
          <button class={layout ? "" : "strong"} disabled={now.pieces.length === 0 || now.findings.some(isTooWide)} onClick={() => void start()}>
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
  const turning = now.roll?.direction ?? "one way";
  const layout = now.roll?.layout;
  const placed = layout?.placements.find((p) => p.piece === piece?.id);
  const help = `${words.moveHelp} ${say.turnings[turning]}`;
  if (!piece) return <p class="quiet small">{help}</p>;
  return (
    <section class="stack" aria-labelledby="piece">
      <h2 id="piece">{words.piece(piece.number, piece.name)}</h2>
      <dl class="facts short">
        <dt>{words.size}</dt>
        <dd>
          <Size of={piece.along} unit={false} /> × <Size of={piece.across} />
        </dd>
        <dt>{words.direction}</dt>
        <dd>{placed ? say.lies[placed.turns] : say.lies[0]}</dd>
        {placed && (
          <>
            {layout && layout.stretches.length > 0 && (
              <>
                <dt>{say.liesOn}</dt>
                <dd>{layout.stretches[placed.stretch]?.name}</dd>
              </>
            )}
            <dt>{say.fromCutEnd}</dt>
            <dd>
              <Size of={placed.from_cut_end} />
            </dd>
            <dt>{say.fromSelvedge}</dt>
            <dd>
              <Size of={placed.from_selvedge} />
            </dd>
          </>
        )}
      </dl>
      <div class="row">
        {placed && turning !== "one way" && <button onClick={() => turnPiece(now, piece.id)}>{say.turn}</button>}
        <button aria-pressed={pinned.value.has(piece.id)} onClick={() => togglePin(piece.id)}>
          {pinned.value.has(piece.id) ? say.unpin : say.pin}
        </button>
      </div>
      <p class="hint">{help}</p>
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
                <ProposedOnPiece panel={p.id} />
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
  const least_mm = search.value?.layout?.bound_mm ?? 0;
  const most = Math.max(...all.map((p) => p.used_mm));
  const least = Math.min(least_mm || most, ...all.map((p) => p.used_mm));
  const y = (mm: number) => 10 + (64 * (most - mm)) / Math.max(most - least, 1);
  const d = all.map((p, i) => `${i === 0 ? "M" : "H"}${(6 + 420 * p.done).toFixed(1)}${i === 0 ? ` ${y(p.used_mm)}` : `V${y(p.used_mm)}`}`).join("");
  return (
    <div class="side" style={{ borderTop: "1px solid var(--rule)" }}>
      <h2>{words.lengthOverTime}</h2>
      <svg width="440" height="90" style={{ maxWidth: "100%" }} viewBox="0 0 440 90" role="img" aria-label={words.lengthOverTime}>
        <path d={d} fill="none" stroke="var(--ink)" stroke-width="2" />
        {least_mm > 0 && <path d={`M6 ${y(least_mm)}H430`} stroke="var(--sea)" stroke-width="1.8" stroke-dasharray="6 4" />}
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
