// A panel wider than the goods: the joints that would divide it, drawn before they are there, to choose from and to take.
import { signal } from "@preact/signals";
import { Fragment } from "preact";
import { useEffect } from "preact/hooks";
import type { Finding, Panel, WayToDivide } from "../core/answers";
import { core } from "../core/core";
import type { View } from "../draw/Drawing";
import { nameOnLine, type Room } from "../draw/names";
import { act, choose, derived, openJob } from "../state/store";
import { Prose, Size } from "../parts/Text";
import { words } from "../words/en";

interface Proposal {
  text: string;
  panel: string;
  ways: WayToDivide[];
  whyNot: string;
  toDo: string;
  way: number;
}
const proposal = signal<Proposal | null>(null);

export const isTooWide = (f: Finding): boolean => f.code === "layout-too-wide";
const tooWide = (panel: string): boolean => derived.value.findings.some((f) => isTooWide(f) && f.subject.id === panel);

/// The proposal for a panel as the job is now; null while there is none, or none yet.
function proposedFor(panel: string | undefined): Proposal | null {
  const now = proposal.value;
  return now && now.panel === panel && now.text === openJob.value?.text ? now : null;
}
const wayFor = (panel: string | undefined): WayToDivide | null => {
  const now = proposedFor(panel);
  return now?.ways[now.way] ?? null;
};

/// The panel that is spoken of, where it is too wide; else the first that is, if any may be taken.
export function widePanel(panel: Panel | undefined, any: boolean): Panel | undefined {
  if (panel && tooWide(panel.id)) return panel;
  return any ? derived.value.panels.find((p) => tooWide(p.id)) : undefined;
}

export function Divide({ panel }: { panel: Panel }) {
  const text = openJob.value?.text ?? "";
  const now = proposedFor(panel.id);
  // The panel is made anew for each way: the screen is there before them.
  useEffect(() => {
    if (proposedFor(panel.id)) return;
    const later = setTimeout(() => {
      const answer = core.proposeJoints(text, panel.id);
      proposal.value = answer.ok
        ? { text, panel: panel.id, ways: answer.ways, whyNot: answer.why_not, toDo: answer.to_do, way: 0 }
        : { text, panel: panel.id, ways: [], whyNot: answer.findings[0]?.says ?? "", toDo: answer.findings[0]?.to_do ?? "", way: 0 };
    }, 0);
    return () => clearTimeout(later);
  }, [text, panel.id]);
  const way = wayFor(panel.id);
  const name = panel.name || panel.id;
  const take = () => {
    if (way && act(words.dividedInto(name, way.strips.length), way.edits)) choose("panel", panel.id);
  };
  return (
    <section class="card roomy stack" aria-labelledby="divide" aria-busy={!now}>
      <h2 id="divide">{words.tooWide(panel.number ?? panel.id, panel.name)}</h2>
      {now && now.ways.length === 0 && (
        <>
          <p>
            <Prose text={words.noJointProposed(now.whyNot)} />
          </p>
          <p class="quiet">{now.toDo}</p>
        </>
      )}
      {now && way && (
        <>
          <fieldset>
            <legend>{words.jointsProposed(now.ways.length)}</legend>
            <div class="choices">
              {now.ways.map((w, i) => (
                <Way key={i} way={w} checked={i === now.way} onTake={() => (proposal.value = { ...now, way: i })} />
              ))}
            </div>
          </fieldset>
          <div class="row">
            <button class="strong" onClick={take}>
              {words.divideInto(way.strips.length)}
            </button>
          </div>
          <p class="hint">
            {now.ways.length > 1 ? words.leastSeen : words.onlyWay} {words.tickJoints}
          </p>
        </>
      )}
    </section>
  );
}

function Way({ way, checked, onTake }: { way: WayToDivide; checked: boolean; onTake: () => void }) {
  return (
    <label class="choice">
      <input type="radio" name="way" checked={checked} onChange={onTake} />
      <span>
        {way.joints.map((joint) => (
          <Fragment key={joint.id}>
            <b>
              {words.joint(joint.id)}, <Size of={joint.length} />
            </b>
            <br />
            {joint.readings.map((reading) => (
              <Fragment key={reading}>
                <Prose text={reading} />
                <br />
              </Fragment>
            ))}
          </Fragment>
        ))}
        <span class="quiet">
          {words.stripsCut}{" "}
          {way.strips.map((strip, i) => (
            <Fragment key={strip.id}>
              {i > 0 && (i === way.strips.length - 1 ? words.and : ", ")}
              <span style={{ whiteSpace: "nowrap" }}>
                <Size of={strip.width} unit={i === way.strips.length - 1} />
              </span>
            </Fragment>
          ))}
        </span>
      </span>
    </label>
  );
}

/// The proposed joints on the boat.
export function ProposedLines({ panel }: { panel: Panel | undefined }) {
  return (
    <g pointer-events="none">
      {wayFor(panel?.id)?.joints.map((j) => (
        <path key={j.id} d={j.d} fill="none" stroke="var(--signal)" stroke-width="2.4" stroke-dasharray="10 6" />
      ))}
    </g>
  );
}

/// Their names, and of the points at their ends. `taken`: by what else stands on the drawing.
export function ProposedMarks({ panel, view, taken }: { panel: Panel | undefined; view: View; taken: Room[] }) {
  const rooms = [...taken];
  return (
    <g pointer-events="none">
      {wayFor(panel?.id)?.joints.map((j) => {
        const [aft, fore] = j.ends.map(view.at);
        if (!aft || !fore) return null;
        const long = words.proposedJoint(j.id);
        const name = 20 * long.length < fore[0] - aft[0] ? long : j.id;
        const [x, y] = nameOnLine(name, 15, [aft, fore], 12, rooms);
        return (
          <g key={j.id}>
            <text class="halo name" x={x} y={y} text-anchor="middle" style={{ fontSize: "15px" }}>
              {name}
            </text>
            {j.through.map((point, i) => (
              <text key={point} class="halo" x={i ? fore[0] + 8 : aft[0] - 8} y={aft[1] + 5} text-anchor={i ? "start" : "end"} style={{ fontSize: "14px" }}>
                {point}
              </text>
            ))}
          </g>
        );
      })}
    </g>
  );
}

/// The same on the piece as it waits beside the roll.
export function ProposedOnPiece({ panel }: { panel: string }) {
  return (
    <>
      {wayFor(panel)?.joints.map((j) => (
        <path key={j.id} d={j.on_piece} fill="none" stroke="var(--signal)" stroke-width="2" stroke-dasharray="8 5" />
      ))}
    </>
  );
}
