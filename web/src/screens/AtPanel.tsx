// What is chosen on the panels' drawing, explained and changed beside it.
import type { Edit, Panel, SaidPanel } from "../core/answers";
import { act, choose, chosen, derived, openJob } from "../state/store";
import { step } from "../state/places";
import { Choices, Field, LengthField } from "../parts/Field";
import { lengthText, Size } from "../parts/Text";
import { words } from "../words/en";

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
      {c.kind === "edge" && <AtEdge panel={panel} said={said} name={part} />}
      {c.kind === "corner" && <AtCorner panel={panel} said={said} at={part} />}
      {c.kind === "opening" && <AtOpening panel={panel} said={said} id={part} />}
      {!["edge", "corner", "opening"].includes(c.kind) && <AtWhole panel={panel} said={said} />}
    </div>
  );
}

function AtEdge({ panel, said, name }: { panel: Panel; said: SaidPanel; name: string }) {
  const turned = name.split(" ").reverse().join(" ");
  const edge = panel.edges.find((e) => e.name === name || e.name === turned);
  if (!edge) return <p class="quiet">{words.tapAnEdge}</p>;
  const { key, edge: now } = saidEdge(said, edge.name);
  const target = `/panels/${step(panel.id)}/edges/${step(key)}`;
  const set = (field: "situation" | "finish" | "measured", value: string) =>
    setField(`${words.edge(edge.name)}: ${value}`, target, field, now[field], value);
  return (
    <>
      <h2>{words.edge(edge.name)}</h2>
      <dl class="facts">
        <dt>{words.finishedLength}</dt>
        <dd>
          <Size of={edge.length} />
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

function AtOpening({ panel, said, id }: { panel: Panel; said: SaidPanel; id: string }) {
  const made = panel.openings.find((o) => o.id === id);
  const now = said.openings?.find((o) => o.id === id);
  if (!now) return null;
  const target = `/panels/${step(panel.id)}/openings/${step(id)}`;
  return (
    <>
      <h2>{words.opening(id)}</h2>
      {now.diameter !== undefined && (
        <LengthField
          label={words.openingDiameter}
          value={text(now.diameter)}
          units={derived.value.units}
          onTake={(v) => setField(`${words.opening(id)}: ${v}`, target, "diameter", now.diameter, v)}
        />
      )}
      <LengthField
        label={words.openingEase}
        value={text(now.ease)}
        example={made ? lengthText(made.ease) : ""}
        help={words.clearanceHelp}
        units={derived.value.units}
        mayBeEmpty
        onTake={(v) => setField(`${words.openingEase}: ${v}`, target, "ease", now.ease, v)}
      />
      <Choices
        legend={words.finishWord}
        name="hole"
        value={made?.finish ?? "turned"}
        all={words.finishes}
        onTake={(v) => setField(`${words.opening(id)}: ${v}`, target, "finish", now.finish, v)}
      />
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

function AtWhole({ panel, said }: { panel: Panel; said: SaidPanel }) {
  const target = `/panels/${step(panel.id)}`;
  const studs = said.studs ?? [];
  const addHole = (event: Event) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    const field = (name: string) => String(form.get(name) ?? "").trim();
    const id = field("id");
    if (
      act(words.opening(id), [
        { target: `${target}/openings/${step(id)}`, field: "", new: { id, at: field("at"), diameter: field("diameter") } },
      ])
    )
      choose("opening", `${panel.id}/${id}`);
  };
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
      {panel.openings.map((o) => (
        <button key={o.id} onClick={() => choose("opening", `${panel.id}/${o.id}`)}>
          {words.opening(o.id)}
        </button>
      ))}
      <details>
        <summary>{words.addOpening}</summary>
        <form class="stack" onSubmit={addHole}>
          <label>
            {words.openingName}
            <input name="id" required maxLength={40} defaultValue="post" autocomplete="off" />
          </label>
          <div class="pair">
            <label>
              {words.openingAt}
              <input name="at" required maxLength={12} autocomplete="off" />
            </label>
            <label>
              {words.openingDiameter}
              <input name="diameter" required defaultValue="2" autocomplete="off" />
            </label>
          </div>
          <button type="submit">{words.addOpening}</button>
        </form>
      </details>
      <button
        onClick={() => {
          if (act(words.panelRemoved(panel.name), [{ target, field: "", old: said }])) chosen.value = null;
        }}
      >
        {words.remove}
      </button>
    </>
  );
}
