// New snaps of a panel by rule: in each corner, along the edges so that none are too far apart, so far from the edge.
import { core } from "../core/core";
import type { Edit, Panel, SaidPanel } from "../core/answers";
import { act, derived, inTheWay, tell } from "../state/store";
import { step } from "../state/places";
import { Choices, LengthField } from "../parts/Field";
import { words } from "../words/en";

type Rule = NonNullable<SaidPanel["new_studs"]>;
/// Stands in the field to begin with: the middle of what is common practice.
const usualPitch = { in: "15 in", mm: "380 mm" };

export function NewSnaps({ panel, said }: { panel: Panel; said: SaidPanel }) {
  const rule: Rule = said.new_studs ?? {};
  const pitch = rule.pitch === undefined ? null : core.readLength(String(rule.pitch), derived.value.units);
  const kind = !said.new_studs ? "none" : pitch?.ok && pitch.length.mm === 0 ? "corners" : "spaced";
  const edit = (field: keyof Rule, value: Rule[keyof Rule] | ""): Edit => ({
    target: `/panels/${step(panel.id)}/new_studs`,
    field,
    ...(rule[field] === undefined ? {} : { old: rule[field] }),
    ...(value === "" || value === undefined ? {} : { new: value }),
  });
  const choose = (to: string) => {
    const edits = to === "none" ? [edit("pitch", ""), edit("from_edge", "")] : [edit("pitch", to === "corners" ? 0 : usualPitch[derived.value.units])];
    const stopped = inTheWay(panel.id, edits);
    if (stopped) tell(stopped, true);
    else act(`${words.newSnaps}: ${words.snapRules[to]?.[0] ?? to}`, edits.filter((e) => e.old !== undefined || e.new !== undefined));
  };
  const length = (label: string, field: keyof Rule, help: string, mayBeEmpty: boolean) => (
    <LengthField
      label={label}
      value={rule[field] === undefined ? "" : String(rule[field])}
      help={help}
      units={derived.value.units}
      mayBeEmpty={mayBeEmpty}
      wrong={(typed) => inTheWay(panel.id, [edit(field, typed)])}
      onTake={(typed) => act(`${label}: ${typed}`, [edit(field, typed)])}
    />
  );
  return (
    <>
      <Choices legend={words.newSnaps} name="new-snaps" value={kind} all={words.snapRules} onTake={choose} />
      {kind === "spaced" && length(words.snapPitch, "pitch", words.snapPitchHelp[derived.value.units], false)}
      {kind !== "none" && length(words.snapFromEdge, "from_edge", words.snapFromEdgeHelp[derived.value.units], true)}
      {kind !== "none" && <p class="hint">{words.snapsInAll(panel.studs.length)}</p>}
    </>
  );
}
