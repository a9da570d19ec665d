// What is chosen on the panels' drawing, explained and changed beside it.
import type { Edit, Panel, SaidPanel } from "../core/answers";
import { act, choose, chosen, derived, openJob } from "../state/store";
import { step } from "../state/places";
import { Choices, Field, LengthField } from "../parts/Field";
import { lengthText, Size } from "../parts/Text";
import { words } from "../words/en";
import { AppliedOf, AtApplied } from "./AtApplied";
import { AtOpening } from "./AtOpening";
import { AtTwin, MakeTwin } from "./AtTwin";
import { edgesGiven, openingAt } from "./edges";
import { NewOpening } from "./NewOpening";
import { NewSnaps } from "./NewSnaps";

/// Sets one field, or takes it out when nothing is said.
export function setField(name: string, target: string, field: string, was: unknown, now: unknown): boolean {
  const edit: Edit = { target, field };
  if (was !== undefined && was !== "") edit.old = was;
  if (now !== undefined && now !== "") edit.new = now;
  return act(name, [edit]);
}
export const text = (value: string | number | undefined): string => (value === undefined ? "" : String(value));

function saidEdge(said: SaidPanel, name: string): { key: string; edge: NonNullable<SaidPanel["edges"]>[string] } {
  const turned = name.split(" ").reverse().join(" ");
  const edges = said.edges ?? {};
  const key = edges[name] ? name : edges[turned] ? turned : name;
  return { key, edge: edges[key] ?? {} };
}

export function AtPanel({ panel }: { panel: Panel }) {
  const job = openJob.value;
  const said = job?.said.panels?.find((p) => p.id === panel.id);
  const c = chosen.value;
  if (!said || !c) return null;
  const part = c.id.includes("/") ? c.id.slice(c.id.indexOf("/") + 1) : "";
  // A plain mat and a twin have no edges that anything is said of.
  const outlined = !panel.mat;
  // A corner of a slit is seen to at its opening.
  const slit = c.kind === "corner" ? openingAt(part) : null;
  const atOpening = said.twin_of === undefined && (c.kind === "opening" || slit);
  return (
    <div class="stack">
      <h3>
        {panel.number ? words.piece(panel.number, panel.name) : panel.name}
        {c.kind !== "panel" && (
          <button class="plain" onClick={() => choose("panel", panel.id)}>
            {words.wholePanel}
          </button>
        )}
      </h3>
      {c.kind === "edge" && outlined && <AtEdge panel={panel} said={said} name={part} />}
      {c.kind === "corner" && outlined && !slit && <AtCorner panel={panel} said={said} at={part} />}
      {atOpening && <AtOpening key={slit ?? part} panel={panel} said={said} id={slit ?? part} />}
      {c.kind === "applied" && said.twin_of === undefined && <AtApplied key={part} panel={panel} said={said} id={part} />}
      {!atOpening && c.kind !== "applied" && (!outlined || !["edge", "corner"].includes(c.kind)) && <AtWhole panel={panel} said={said} />}
    </div>
  );
}

function AtEdge({ panel, said, name }: { panel: Panel; said: SaidPanel; name: string }) {
  const turned = name.split(" ").reverse().join(" ");
  const [whole, parts] = edgesGiven(panel).find(([n, all]) => n === name || n === turned || all.some((e) => e.name === name)) ?? [];
  const edge = parts?.[0];
  if (!whole || !parts || !edge) return <p class="quiet">{words.tapAnEdge}</p>;
  const { key, edge: now } = saidEdge(said, whole);
  const target = `/panels/${step(panel.id)}/edges/${step(key)}`;
  const set = (field: "situation" | "finish" | "measured", value: string) =>
    setField(`${words.edge(whole)}: ${value}`, target, field, now[field], value);
  return (
    <>
      <h2>{words.edge(whole)}</h2>
      <dl class="facts">
        <dt>{words.finishedLength}</dt>
        <dd>
          {parts.map((part, i) => (
            <>
              {i > 0 && " + "}
              <Size of={part.length} key={part.name} unit={i === parts.length - 1} />
            </>
          ))}
        </dd>
        <dt>{words.comesOff}</dt>
        <dd>
          <Size of={edge.clearance} />
        </dd>
      </dl>
      <Choices legend={words.meets} name="situation" value={edge.situation} all={words.situations} onTake={(v) => set("situation", v)} />
      <Choices legend={words.finishWord} name="finish" value={edge.finish} all={words.finishes} onTake={(v) => set("finish", v)} />
      <LengthField
        label={words.clearance}
        value={text(now.clearance)}
        help={words.clearanceHelp}
        units={derived.value.units}
        mayBeEmpty
        onTake={(v) => setField(`${words.clearance}: ${v}`, target, "clearance", now.clearance, v)}
      />
      <details>
        <summary>{words.measuredWord}</summary>
        <Choices legend={words.measuredWord} name="measured" value={edge.measured} all={words.measures} onTake={(v) => set("measured", v)} />
      </details>
    </>
  );
}

function AtCorner({ panel, said, at }: { panel: Panel; said: SaidPanel; at: string }) {
  const corner = panel.corners.find((c) => c.at === at);
  if (!corner) return null;
  const take = (radius: string) => {
    const was = said.corners ?? [];
    const now = was.map((c) => ((typeof c === "string" ? c : c.at) === at ? (radius === "" ? at : { at, radius }) : c));
    act(`${words.corner(at)}: ${radius}`, [{ target: `/panels/${step(panel.id)}`, field: "corners", old: was, new: now }]);
  };
  return (
    <>
      <h2>{words.corner(at)}</h2>
      <LengthField
        label={words.radius}
        value={lengthText(corner.radius)}
        help={words.radiusHelp}
        units={derived.value.units}
        mayBeEmpty
        onTake={take}
      />
    </>
  );
}

function AtWhole({ panel, said }: { panel: Panel; said: SaidPanel }) {
  const target = `/panels/${step(panel.id)}`;
  const studs = said.studs ?? [];
  const takeOut = (
    <button
      onClick={() => {
        if (act(words.panelRemoved(panel.name), [{ target, field: "", old: said }])) chosen.value = null;
      }}
    >
      {words.removePanel}
    </button>
  );
  if (said.twin_of !== undefined)
    return (
      <>
        <AtTwin panel={panel} said={said} />
        <div class="row">{takeOut}</div>
      </>
    );
  return (
    <>
      <Field label={words.panelName} value={said.name ?? ""} onTake={(v) => setField(`${words.panelName}: ${v}`, target, "name", said.name, v)} />
      {!panel.mat && (
        <>
          <Choices
            legend={words.finishWord}
            name="panel-finish"
            value={said.finish ?? "bound"}
            all={words.finishes}
            onTake={(v) => setField(`${panel.name}: ${v}`, target, "finish", said.finish, v)}
          />
          <LengthField
            label={words.radiusAll}
            value={text(said.corner_radius)}
            help={words.radiusHelp}
            units={derived.value.units}
            mayBeEmpty
            onTake={(v) => setField(`${words.radiusAll}: ${v}`, target, "corner_radius", said.corner_radius, v)}
          />
          <Field
            label={words.studs}
            value={studs.join(" ")}
            help={words.studsHelp}
            onTake={(v) => {
              const now = v.split(/[\s,]+/).filter(Boolean);
              setField(`${words.studs}: ${v}`, target, "studs", studs.length ? studs : undefined, now.length ? now : undefined);
            }}
          />
        </>
      )}
      <NewSnaps panel={panel} said={said} />
      {panel.openings.length > 0 && (
        <div class="row">
          {panel.openings.map((o) => (
            <button key={o.id} onClick={() => choose("opening", `${panel.id}/${o.id}`)}>
              {words.opening(o.id)}
            </button>
          ))}
        </div>
      )}
      <NewOpening panel={panel} said={said} />
      <AppliedOf panel={panel} said={said} />
      <MakeTwin panel={panel} said={said} />
      <div class="row">{takeOut}</div>
    </>
  );
}
