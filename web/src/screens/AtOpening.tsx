// An opening of a panel: what passes through it, its ease and finish, and its slit to an edge.
import type { Panel, SaidPanel } from "../core/answers";
import { act, choose, derived, inTheWay } from "../state/store";
import { step } from "../state/places";
import { Choices, Field, LengthField, Pick } from "../parts/Field";
import { lengthText } from "../parts/Text";
import { words } from "../words/en";
import { edgesGiven } from "./edges";
import { editsOf } from "./given";
import { NewOpening } from "./NewOpening";
import { pointsIn } from "./picking";

export type SaidOpening = NonNullable<SaidPanel["openings"]>[number];
export type OpeningForm = "round" | "box" | "slot" | "free" | "lid";
type Value = SaidOpening[keyof SaidOpening];

export function formOf(said: SaidOpening): OpeningForm {
  if (said.size !== undefined) return "box";
  if (said.slot !== undefined) return "slot";
  if (said.outline !== undefined) return "free";
  return said.lid !== undefined ? "lid" : "round";
}

/// A corner of a list without a radius is its name alone.
export const cornerName = (c: string | { at: string }): string => (typeof c === "string" ? c : c.at);

/// Panels that could lift out of this one: of the same space, by id and name.
export function lidsFor(panel: Panel, all: Panel[]): [string, string][] {
  return all.filter((p) => p.id !== panel.id && !p.mat && p.space === panel.space).map((p) => [p.id, p.name || p.id]);
}

export function AtOpening({ panel, said, id }: { panel: Panel; said: SaidPanel; id: string }) {
  const made = panel.openings.find((o) => o.id === id);
  const now = said.openings?.find((o) => o.id === id);
  if (!now) return null;
  const form = formOf(now);
  const target = `/panels/${step(panel.id)}/openings/${step(id)}`;
  const { edit, take } = editsOf(panel.id, target, words.opening(id), now);
  const length = (label: string, field: keyof SaidOpening, more: { help?: string; mayBeEmpty?: boolean; example?: string } = {}) => (
    <LengthField
      label={label}
      value={text(now[field])}
      units={derived.value.units}
      wrong={(typed) => inTheWay(panel.id, [edit(field, typed)])}
      onTake={(typed) => act(`${words.opening(id)}, ${label}: ${typed}`, [edit(field, typed)])}
      {...more}
    />
  );
  const typed = (label: string, field: keyof SaidOpening, value: string, example: string, read: (typed: string) => Value | "" = (t) => t) => (
    <Field
      label={label}
      value={value}
      example={example}
      wrong={(t) => inTheWay(panel.id, [edit(field, read(t))])}
      onTake={(t) => act(`${words.opening(id)}, ${label}: ${t}`, [edit(field, read(t))])}
    />
  );
  /// The radii of corners that stay are kept.
  const outlineOf = (t: string) => pointsIn(t).map((at) => now.outline?.find((c) => cornerName(c) === at) ?? at);
  return (
    <>
      <h2>{words.opening(id)}</h2>
      <p class="quiet">{words.openingForms[form]?.[1]}</p>
      {(form === "round" || form === "box") && typed(words.openingAt, "at", text(now.at), panel.mat ? words.openingAtMat : "P")}
      {form === "round" && length(words.openingDiameter, "diameter")}
      {form === "box" && (
        <>
          {typed(words.openingSize, "size", text(now.size), words.openingSizeExample)}
          {length(words.openingRadius, "radius", { help: words.openingRadiusHelp, mayBeEmpty: true })}
          {!panel.mat && typed(words.openingAlong, "along", text(now.along), words.openingAlongExample)}
          {now.along === undefined && typed(words.openingTurn, "turn", text(now.turn), "0", degrees)}
        </>
      )}
      {form === "slot" && (
        <>
          {typed(words.openingSlot, "slot", text(now.slot), "P Q")}
          {length(words.openingWidth, "width")}
        </>
      )}
      {form === "free" && (
        <>
          {typed(words.openingOutline, "outline", (now.outline ?? []).map(cornerName).join(" "), "T1 T2 T3", outlineOf)}
          <details>
            <summary>{words.openingRounded}</summary>
            <div class="stack">
              {(now.outline ?? []).map((c) => {
                const at = cornerName(c);
                const rounded = (r: string) => (now.outline ?? []).map((o) => (o === c ? (r === "" ? at : { at, radius: r }) : o));
                return (
                  <LengthField
                    key={at}
                    label={words.radiusAt(at)}
                    value={typeof c === "string" ? "" : text(c.radius)}
                    units={derived.value.units}
                    mayBeEmpty
                    wrong={(r) => inTheWay(panel.id, [edit("outline", rounded(r))])}
                    onTake={(r) => act(`${words.opening(id)}, ${words.radiusAt(at)}: ${r}`, [edit("outline", rounded(r))])}
                  />
                );
              })}
            </div>
          </details>
        </>
      )}
      {form === "lid" && (
        <>
          <Pick label={words.openingLid} value={now.lid ?? ""} all={lidsFor(panel, derived.value.panels)} onTake={(v) => take(v, [edit("lid", v)])} />
          {length(words.openingGap, "gap", { help: words.openingGapHelp, mayBeEmpty: true })}
        </>
      )}
      {form !== "lid" &&
        length(words.openingEase, "ease", { help: words.clearanceHelp, mayBeEmpty: true, example: made ? lengthText(made.ease) : "" })}
      <Choices
        legend={words.finishWord}
        name="hole"
        value={now.finish ?? made?.finish ?? "turned"}
        all={words.finishes}
        onTake={(v) => take(v, [edit("finish", v as Value)])}
      />
      <Pick
        label={words.slit}
        help={words.slitHelp}
        value={slitChoice(now.slit, panel)}
        all={[["", words.slitNone], [leastSeen, words.slitLeastSeen], ...edgesGiven(panel).map(([name]): [string, string] => [name, words.slitTo(name)])]}
        onTake={(v) => {
          // Without a slit its gap and finish go too.
          const withIt = v ? [] : (["slit_gap", "slit_finish"] as const).filter((f) => now[f] !== undefined).map((f) => edit(f, ""));
          take(`${words.slit}: ${v || words.slitNone}`, [edit("slit", v), ...withIt]);
        }}
      />
      {now.slit !== undefined && (
        <>
          {length(words.slitGap, "slit_gap", { help: words.slitGapHelp, mayBeEmpty: true })}
          <Choices
            legend={words.slitFinish}
            name="slit-finish"
            value={now.slit_finish ?? ""}
            all={{ "": words.slitFinishAsOpening, ...words.finishes }}
            onTake={(v) => take(`${words.slitFinish}: ${v}`, [edit("slit_finish", v as Value)])}
          />
        </>
      )}
      <NewOpening key={form} panel={panel} said={said} was={now} />
      <button
        onClick={() => {
          if (act(`${words.remove}: ${id}`, [{ target, field: "", old: now }])) choose("panel", panel.id);
        }}
      >
        {words.remove}
      </button>
    </>
  );
}

const leastSeen = "least seen";
/// An edge may be said either way round.
function slitChoice(slit: string | undefined, panel: Panel): string {
  if (slit === undefined || slit === leastSeen) return slit ?? "";
  const turned = slit.split(" ").reverse().join(" ");
  return edgesGiven(panel).find(([name]) => name === slit || name === turned)?.[0] ?? slit;
}

const text = (value: Value): string => (typeof value === "string" || typeof value === "number" ? String(value) : "");
/// A number where it is one; the core says what is wrong with anything else.
const degrees = (typed: string): Value | "" => (typed === "" || Number.isNaN(Number(typed)) ? typed : Number(typed));
