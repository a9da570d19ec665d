// Panels: tap an edge, a corner or an opening and say what it meets and how it is finished.
import { signal } from "@preact/signals";
import type { Panel, Space } from "../core/answers";
import { act, choose, chosen, derived, openJob, tell } from "../state/store";
import { spaceOf, stageOf, step } from "../state/places";
import { core } from "../core/core";
import { Needs } from "../parts/Needs";
import { words } from "../words/en";
import { AtPanel } from "./AtPanel";
import { PanelsDrawing } from "./PanelsDrawing";
import { AtJoint, Joints } from "./AtJoint";
import { Divide, isTooWide, widePanel } from "./Divide";
import { NewTwin } from "./AtTwin";
import { picking } from "./picking";
import { PieceDrawing } from "./PieceDrawing";

export type PanelView = "above" | "face" | "back";
export const panelView = signal<PanelView>("above");

/// "3", "3/A B", "3/post": the panel is what stands before the slash.
export function chosenPanel(panels: Panel[]): Panel | undefined {
  const c = chosen.value;
  if (!c || !["panel", "edge", "corner", "opening", "stud", "applied", "piece"].includes(c.kind)) return undefined;
  const id = c.id.split("/")[0];
  return panels.find((p) => p.id === id);
}

export function Panels() {
  const job = openJob.value;
  const { panels, spaces, pieces } = derived.value;
  if (!job) return null;
  const panel = chosenPanel(panels);
  const piece = panel && pieces.find((p) => p.id === panel.id);
  const joint = chosen.value?.kind === "joint" ? chosen.value.id : null;
  const space = spaces.find((s) => s.id === (joint === null ? panel?.space : spaceOf(joint))) ?? spaces[0];
  const view = piece ? panelView.value : "above";
  const asked = job.said.panels ?? [];
  const wide = widePanel(panel, false);
  return (
    <main class="bench" id="content">
      <section class="side left wide-stack" aria-label={words.panels}>
        <MarkOn />
        <section aria-labelledby="panels">
          <h2 id="panels">{words.panels}</h2>
          <ul class="list" style={{ marginTop: "10px" }}>
            {asked.map((p) => {
              const made = panels.find((x) => x.id === p.id);
              return (
                <li key={p.id}>
                  <button
                    class="finding"
                    style={{ borderLeftColor: made?.number ? "var(--sea)" : "var(--signal)" }}
                    aria-pressed={panel?.id === p.id}
                    onClick={() => choose("panel", p.id)}
                  >
                    <b>{made?.number ?? "–"}</b> {p.name ?? <span class="quiet">{words.noName}</span>}
                    <span class="quiet small" style={{ display: "block" }}>
                      {p.twin_of !== undefined
                        ? words.twinSays(asked.find((o) => o.id === p.twin_of)?.name || p.twin_of, p.twin_checked ?? false)
                        : p.mat ?? (p.corners ?? []).map((c) => (typeof c === "string" ? c : c.at)).join(" ")}
                    </span>
                  </button>
                </li>
              );
            })}
          </ul>
          {asked.length === 0 && (
            <p class="quiet" style={{ marginTop: "10px" }}>
              {words.noPanels}. {words.noPanelsHelp}
            </p>
          )}
        </section>
        <NewPanel space={space} />
        <Joints space={space} panel={panel} />
      </section>
      <section class="middle" aria-label={words.asList}>
        {piece && (
          <div class="band">
            <span class="segments" role="group" aria-label={words.view}>
              {(["above", "face", "back"] as const).map((v) => (
                <button key={v} aria-pressed={view === v} onClick={() => (panelView.value = v)}>
                  {words.views[v]}
                </button>
              ))}
            </span>
          </div>
        )}
        {view === "above" && <PanelsDrawing space={space} panels={panels.filter((p) => !space || p.space === space.id || p === panel)} panel={panel} />}
        {view !== "above" && piece && <PieceDrawing piece={piece} panel={panel} back={view === "back"} />}
      </section>
      <aside class="side right wide-stack" tabIndex={0} aria-label={words.wholePanel}>
        {wide && <Divide key={wide.id} panel={wide} />}
        {panel ? <AtPanel panel={panel} /> : joint !== null && space ? <AtJoint space={space} /> : <p class="quiet">{words.tapAnEdge}</p>}
        <Needs only={(f) => stageOf(f) === "panels" || f.subject.kind === "job" || isTooWide(f)} />
      </aside>
    </main>
  );
}

function MarkOn() {
  const job = openJob.value;
  if (!job) return null;
  const now = job.said.mark_on ?? "";
  return (
    <fieldset>
      <legend>{words.markOn}</legend>
      <div class="choices">
        {Object.entries(words.markSides).map(([side, label]) => (
          <label class="choice" key={side}>
            <input
              type="radio"
              name="mark"
              checked={now === side}
              onChange={() => act(`${words.markOn} ${label}`, [{ target: "", field: "mark_on", ...(now ? { old: now } : {}), new: side }])}
            />
            <span>{label}</span>
          </label>
        ))}
      </div>
      {!now && <p class="hint">{words.markOnHelp}</p>}
    </fieldset>
  );
}

function NewPanel({ space }: { space: Space | undefined }) {
  const job = openJob.value;
  if (!job) return null;
  const add = (entry: { name?: string; corners?: string[]; mat?: string; space?: string; twin_of?: string }) => {
    const free = core.freeId(job.text, "/panels", "", "");
    if (!free.ok) return tell(free.findings[0]?.says ?? "", true);
    const name = entry.name || free.id;
    if (act(words.panelMade(name), [{ target: `/panels/${step(free.id)}`, field: "", new: { id: free.id, ...entry } }])) {
      picking.value = null;
      choose("panel", free.id);
    }
  };
  const corners = picking.value?.panel === null && !picking.value.joint ? picking.value.names : null;
  const make = (event: Event) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    const name = String(form.get("name") ?? "").trim();
    const typedCorners = String(form.get("corners") ?? "").split(/[\s,]+/).filter(Boolean);
    add({ ...(name ? { name } : {}), ...(space ? { space: space.id } : {}), corners: typedCorners });
  };
  const mat = (event: Event) => {
    event.preventDefault();
    const size = String(new FormData(event.currentTarget as HTMLFormElement).get("size") ?? "").trim();
    if (size) add({ name: words.plainMat.toLowerCase(), mat: size });
  };
  if (corners === null)
    return (
      <div class="row">
        <button class="strong" disabled={!space?.survey} onClick={() => (picking.value = { panel: null, most: 500, names: [] })}>
          {words.addPanel}
        </button>
        <details style={{ width: "100%" }}>
          <summary>{words.plainMat}</summary>
          <form class="row" onSubmit={mat}>
            <label style={{ flex: 1 }}>
              {words.matSize}
              <input name="size" placeholder={words.matExample} required autocomplete="off" />
            </label>
            <button type="submit">{words.makePanel}</button>
          </form>
        </details>
        <NewTwin onMake={(twin_of, name) => add({ ...(name ? { name } : {}), twin_of })} />
      </div>
    );
  return (
    <form class="card stack" onSubmit={make}>
      <label>
        {words.panelName}
        <input name="name" autocomplete="off" maxLength={80} />
      </label>
      <label>
        {words.panelCorners}
        <input
          name="corners"
          autocomplete="off"
          value={corners.join(" ")}
          onInput={(e) => (picking.value = { panel: null, most: 500, names: e.currentTarget.value.split(/[\s,]+/) })}
        />
      </label>
      <p class="hint">{words.panelCornersHelp}</p>
      <div class="row">
        <button class="strong" type="submit" disabled={corners.filter(Boolean).length < 3}>
          {words.makePanel}
        </button>
        <button type="button" onClick={() => (picking.value = null)}>
          {words.cancel}
        </button>
      </div>
    </form>
  );
}
