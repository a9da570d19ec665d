// Joint lines: stored once for both neighbours, drawn between measured points; panels end at them, or are divided by them.
import { useEffect, useState } from "preact/hooks";
import type { Edit, Finding, Panel, SaidPanel, SaidSpace, Space } from "../core/answers";
import { core } from "../core/core";
import { act, choose, chosen, derived, inTheWay, openJob, tell, wouldStop } from "../state/store";
import { step, withoutSpace } from "../state/places";
import { Faults } from "../parts/Form";
import { Field, LengthField, Pick } from "../parts/Field";
import { words } from "../words/en";
import { setField, text } from "./AtPanel";
import { panelView } from "./Panels";
import { picking, pointsIn } from "./picking";

export type SaidJoint = NonNullable<SaidSpace["joints"]>[number];
type Side = "left" | "right";

export function jointsOf(space: string): SaidJoint[] {
  return openJob.value?.said.spaces?.find((s) => s.id === space)?.joints ?? [];
}
const jointTarget = (space: string, id: string): string => `/spaces/${step(space)}/joints/${step(id)}`;
const panelTarget = (id: string): string => `/panels/${step(id)}`;
const ends = (joint: SaidJoint): [string, string] => [joint.through[0] ?? "", joint.through[joint.through.length - 1] ?? ""];

/// Panels of the space that may end at a joint: those with corners of their own.
function cuttable(space: string): SaidPanel[] {
  const made = derived.value.panels;
  const only = openJob.value?.said.spaces?.length === 1;
  return (openJob.value?.said.panels ?? []).filter(
    (p) => p.corners !== undefined && (p.space === space || (only && p.space === undefined) || made.find((m) => m.id === p.id)?.space === space),
  );
}
const nameOf = (p: SaidPanel): string => p.name || p.id;

/// The panel's cuts with this joint keeping that side, or without it.
function cutsWith(said: SaidPanel, joint: string, keep: Side | ""): SaidPanel["cut_by"] {
  const others = (said.cut_by ?? []).filter((c) => c.joint !== joint);
  const there = said.cut_by?.findIndex((c) => c.joint === joint) ?? -1;
  if (keep === "") return others.length > 0 ? others : undefined;
  others.splice(there < 0 ? others.length : there, 0, { joint, keep });
  return others;
}
const cutEdit = (said: SaidPanel, joint: string, keep: Side | ""): Edit => {
  const cuts = cutsWith(said, joint, keep);
  return { target: panelTarget(said.id), field: "cut_by", ...(said.cut_by ? { old: said.cut_by } : {}), ...(cuts ? { new: cuts } : {}) };
};

/// The two halves that a joint makes of a panel: the panel itself keeps what lies left, a new one behind it what lies right.
/// Openings, studs and what is put on it go to the half they lie in, which the core is asked for. Findings instead where it cannot be done.
function divided(first: Edit[], said: SaidPanel, joint: string): Edit[] | Finding[] {
  const job = openJob.value;
  if (!job) return [];
  const free = core.freeId(job.text, "/panels", "", "");
  if (!free.ok) return free.findings;
  const { openings = [], studs = [], applied = [], ...bare } = said;
  const half = (id: string, n: number, keep: Side): SaidPanel => ({
    ...bare,
    id,
    ...(said.name ? { name: words.half(said.name, n) } : {}),
    cut_by: cutsWith(said, joint, keep) ?? [],
  });
  const halves: [SaidPanel, SaidPanel] = [half(said.id, 1, "left"), half(free.id, 2, "right")];
  const before = job.said.panels ?? [];
  const behind = before[before.findIndex((p) => p.id === said.id) - 1]?.id ?? "";
  const edits = (): Edit[] => [
    ...first,
    { target: panelTarget(said.id), field: "", old: said, behind },
    { target: panelTarget(said.id), field: "", new: halves[0], behind },
    { target: panelTarget(free.id), field: "", new: halves[1], behind: said.id },
  ];
  const stops = (): Finding[] => {
    const [left, right] = [wouldStop(said.id, edits()), wouldStop(free.id, edits())];
    return left.length > 0 ? left : right;
  };
  let faults = stops();
  if (faults.length > 0) return faults;
  for (const opening of openings) {
    faults = whereItLies(halves, stops, (h) => ({ ...h, openings: [...(h.openings ?? []), opening] }), `/${opening.id}`);
    if (faults.length > 0) return faults;
  }
  for (const stud of studs) {
    faults = whereItLies(halves, stops, (h) => ({ ...h, studs: [...(h.studs ?? []), stud] }), `/${stud}`);
    if (faults.length > 0) return faults;
  }
  for (const piece of applied) {
    faults = whereItLies(halves, stops, (h) => ({ ...h, applied: [...(h.applied ?? []), piece] }), `/${piece.id}`);
    if (faults.length > 0) return faults;
  }
  return edits();

  function whereItLies(all: [SaidPanel, SaidPanel], stopsNow: () => Finding[], withIt: (h: SaidPanel) => SaidPanel, part: string): Finding[] {
    let said: Finding[] = [];
    for (const i of [0, 1] as const) {
      const was = all[i];
      all[i] = withIt(was);
      const now = core.apply(openJob.value?.text ?? "", edits());
      const then = now.ok ? core.derive(now.job, null) : now;
      const against = then.ok ? then.findings.filter((f) => f.severity === "stop" && f.subject.id === all[i].id + part) : then.findings;
      const found = against.length > 0 ? against : stopsNow();
      if (found.length === 0) return [];
      all[i] = was;
      said = said.length > 0 ? said : found;
    }
    return said;
  }
}
const areEdits = (all: Edit[] | Finding[]): all is Edit[] => all.length === 0 || "target" in (all[0] as object);

export function AtJoint({ space }: { space: Space }) {
  const id = withoutSpace(chosen.value?.id ?? "");
  const joint = jointsOf(space.id).find((j) => j.id === id);
  const [refused, setRefused] = useState<Finding[]>([]);
  useEffect(() => setRefused([]), [id]);
  if (!joint) return <p class="quiet">{words.tapAnEdge}</p>;
  const target = jointTarget(space.id, id);
  const panels = cuttable(space.id);
  const cutNow = panels.filter((p) => p.cut_by?.some((c) => c.joint === id));
  const uncut = panels.filter((p) => !cutNow.includes(p));
  const [from, to] = ends(joint);
  const through = (typed: string): Edit => ({ target, field: "through", old: joint.through, new: pointsIn(typed) });
  const stoppedBy = (edits: Edit[]): string => {
    for (const p of cutNow) {
      const said = inTheWay(p.id, edits);
      if (said) return said;
    }
    const first = wrongJoint(space.id, id, edits)[0];
    return first ? `${first.says} ${first.to_do}`.trim() : "";
  };
  const turn = (said: SaidPanel, keep: Side | "") => {
    const edits = [cutEdit(said, id, keep)];
    const stopped = inTheWay(said.id, edits);
    if (stopped) tell(stopped, true);
    else act(`${words.joint(id)}, ${nameOf(said)}: ${words.keeps[keep]}`, edits);
  };
  const divide = (panel: string) => {
    const said = panels.find((p) => p.id === panel);
    if (!said) return;
    const edits = divided([], said, id);
    if (!areEdits(edits)) return setRefused(edits);
    setRefused([]);
    act(words.dividedBy(nameOf(said), id), edits);
  };
  const takeOut = () => {
    const edits: Edit[] = cutNow.map((p) => cutEdit(p, id, ""));
    // What was said of the edge at the joint goes with it; it has no other.
    for (const p of cutNow)
      for (const key of [`${from} ${to}`, `${to} ${from}`]) {
        const edge = p.edges?.[key];
        if (edge) edits.push({ target: `${panelTarget(p.id)}/edges/${step(key)}`, field: "", old: edge });
      }
    edits.push({ target, field: "", old: joint });
    if (act(`${words.remove}: ${words.joint(id)}`, edits)) chosen.value = null;
  };
  return (
    <div class="stack">
      <h2>{words.joint(id)}</h2>
      <p class="quiet">{words.jointSays}</p>
      <Field
        label={words.jointThrough}
        value={joint.through.join(" ")}
        example="P Q"
        wrong={(t) => stoppedBy([through(t)])}
        onTake={(t) => act(`${words.joint(id)}: ${t}`, [through(t)])}
      />
      <LengthField
        label={words.reveal}
        help={words.revealHelp}
        value={text(joint.reveal)}
        units={derived.value.units}
        mayBeEmpty
        onTake={(v) => setField(`${words.reveal}: ${v}`, target, "reveal", joint.reveal, v)}
      />
      <Pick
        label={words.finishedNeighbour}
        help={words.finishedNeighbourHelp}
        value={joint.finished ?? ""}
        all={[["", words.finishedNone], ...neighbours(space.id, joint)]}
        onTake={(v) => setField(`${words.finishedNeighbour}: ${v}`, target, "finished", joint.finished, v)}
      />
      <fieldset>
        <legend>{words.endAtIt}</legend>
        <div class="stack">
        <p class="hint">{words.sidesOf(from, to)}</p>
        {cutNow.map((p) => (
          <Pick
            key={p.id}
            label={nameOf(p)}
            value={p.cut_by?.find((c) => c.joint === id)?.keep ?? ""}
            all={keepChoices()}
            onTake={(v) => turn(p, v as Side | "")}
          />
        ))}
        {uncut.length > 0 && (
          <>
            <Pick
              label={words.divideWhich}
              value=""
              all={[["", words.choosePanel], ...uncut.map((p): [string, string] => [p.id, nameOf(p)])]}
              onTake={divide}
            />
            <Pick
              label={words.trimWhich}
              value=""
              all={[
                ["", words.choosePanel],
                ...uncut.flatMap((p) => (["left", "right"] as const).map((k): [string, string] => [`${k} ${p.id}`, `${nameOf(p)}: ${words.keeps[k]}`])),
              ]}
              onTake={(v) => {
                const said = uncut.find((p) => p.id === v.slice(v.indexOf(" ") + 1));
                if (said) turn(said, v.slice(0, v.indexOf(" ")) as Side);
              }}
            />
          </>
        )}
        {refused.length > 0 && <Faults of={refused} />}
        </div>
      </fieldset>
      <button onClick={takeOut}>{words.jointTakeOut}</button>
    </div>
  );
}

const keepChoices = (): [string, string][] => (["left", "right", ""] as const).map((k) => [k, words.keeps[k]]);

/// Panels that lie at the joint: those that end at it, and those with both its ends among their corners.
function neighbours(space: string, joint: SaidJoint): [string, string][] {
  const [from, to] = ends(joint);
  const near = cuttable(space).filter((p) => {
    const made: Panel | undefined = derived.value.panels.find((m) => m.id === p.id);
    const corners = made?.corners.map((c) => c.at) ?? [];
    return p.cut_by?.some((c) => c.joint === joint.id) || (corners.includes(from) && corners.includes(to)) || joint.finished === p.id;
  });
  return near.map((p) => [p.id, words.finishedIs(nameOf(p))]);
}

/// What the core says against the joint itself once these edits were made.
function wrongJoint(space: string, id: string, edits: Edit[]): Finding[] {
  const after = core.apply(openJob.value?.text ?? "", edits);
  const then = after.ok ? core.derive(after.job, null) : after;
  return then.findings.filter((f) => f.severity === "stop" && (!then.ok || (f.subject.kind === "joint" && f.subject.id === `${space}/${id}`)));
}

/// The joints of a space, and a new one.
export function Joints({ space, panel }: { space: Space | undefined; panel: Panel | undefined }) {
  const [refused, setRefused] = useState<Finding[]>([]);
  if (!space?.survey) return null;
  const joints = jointsOf(space.id);
  const now = picking.value?.joint ? picking.value : null;
  const begin = () => {
    setRefused([]);
    panelView.value = "above";
    picking.value = { panel: null, joint: true, most: 500, names: [] };
  };
  const make = (event: Event) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const field = (name: string) => String(data.get(name) ?? "").trim();
    const id = field("id");
    const first: Edit[] = [{ target: jointTarget(space.id, id), field: "", new: { id, through: pointsIn(field("through")) } }];
    const wrong = wrongJoint(space.id, id, first);
    if (wrong.length > 0) return setRefused(wrong);
    const said = cuttable(space.id).find((p) => p.id === field("divide"));
    const edits = said ? divided(first, said, id) : first;
    if (!areEdits(edits)) return setRefused(edits);
    if (!act(said ? words.dividedBy(nameOf(said), id) : words.joint(id), edits)) return;
    picking.value = null;
    choose("joint", `${space.id}/${id}`);
  };
  const panels = cuttable(space.id);
  return (
    <section class="stack" aria-labelledby="joints">
      <h2 id="joints">{words.joints}</h2>
      {joints.length > 0 && (
        <ul class="list">
          {joints.map((j) => {
            const id = `${space.id}/${j.id}`;
            const here = chosen.value?.kind === "joint" && chosen.value.id === id;
            return (
              <li key={j.id}>
                <button class="finding" style={{ borderLeftColor: "var(--sea)" }} aria-pressed={here} onClick={() => choose("joint", id)}>
                  {j.id} <span class="quiet small">{j.through.join(" – ")}</span>
                </button>
              </li>
            );
          })}
        </ul>
      )}
      {!now ? (
        <div class="row">
          <button onClick={begin}>{words.addJoint}</button>
        </div>
      ) : (
        <form class="card stack" onSubmit={make} aria-label={words.addJoint}>
          <label>
            {words.jointName}
            <input name="id" required maxLength={40} autocomplete="off" defaultValue={freeJoint(joints)} />
          </label>
          <label>
            {words.jointThrough}
            <input
              name="through"
              required
              autocomplete="off"
              spellcheck={false}
              placeholder="P Q"
              value={now.names.join(" ")}
              onInput={(e) => (picking.value = { ...now, names: e.currentTarget.value.split(/[\s,]+/) })}
            />
          </label>
          <p class="hint">{words.jointHelp}</p>
          <label>
            {words.divideWhich}
            <select name="divide">
              <option value="">{words.divideNone}</option>
              {panels.map((p) => (
                <option value={p.id} key={p.id} selected={p.id === panel?.id}>
                  {nameOf(p)}
                </option>
              ))}
            </select>
          </label>
          {refused.length > 0 && <Faults of={refused} />}
          <div class="row">
            <button class="strong" type="submit" disabled={now.names.filter(Boolean).length < 2}>
              {words.makeJoint}
            </button>
            <button type="button" onClick={() => (picking.value = null)}>
              {words.cancel}
            </button>
          </div>
        </form>
      )}
    </section>
  );
}

function freeJoint(all: SaidJoint[]): string {
  for (let n = 1; ; n++) {
    const name = n === 1 ? words.jointFirst : `${words.jointFirst} ${n}`;
    if (!all.some((j) => j.id === name)) return name;
  }
}
