// The panels of a space on the boat, seen from above: boat line, net line, cut line of the one that is chosen.
import type { Box, Panel, Place, Space } from "../core/answers";
import { Drawing, type View } from "../draw/Drawing";
import type { Room } from "../draw/names";
import { choose, chosen, openJob } from "../state/store";
import { lengthText, Prose } from "../parts/Text";
import { words } from "../words/en";
import { ProposedLines, ProposedMarks } from "./Divide";
import { JointLines, JointMarks } from "./JointLines";
import { labelShare } from "./labels";
import { openingAt, partOf } from "./edges";
import { picking, tapPoint } from "./picking";

const here = (kind: string, id: string): boolean => chosen.value?.kind === kind && chosen.value.id === id;

/// Tapping a part of an edge that a slit parts means the whole edge; tapping the slit means its opening.
function choosePart(panel: Panel, index: number): void {
  const part = partOf(panel, index);
  if ("edge" in part) choose("edge", `${panel.id}/${part.edge}`);
  else choose("opening", `${panel.id}/${part.opening}`);
}
function isHere(panel: Panel, index: number): boolean {
  const part = partOf(panel, index);
  return "edge" in part ? here("edge", `${panel.id}/${part.edge}`) : here("opening", `${panel.id}/${part.opening}`);
}

function around(boxes: (Box | null)[]): Box | null {
  const all = boxes.filter((b): b is Box => b !== null);
  if (all.length === 0) return null;
  const x = Math.min(...all.map((b) => b[0]));
  const y = Math.min(...all.map((b) => b[1]));
  return [x, y, Math.max(...all.map((b) => b[0] + b[2])) - x, Math.max(...all.map((b) => b[1] + b[3])) - y];
}

/// What a letter of a name takes; where a panel is narrower than its name, its number is enough.
const letter_px = 7.5;

/// Where the number of a panel stands, on the screen; its name is 20 px below.
function numberAt(panel: Panel, box: Box, view: View): Place {
  const [along, down] = labelShare(panel, false, view.scale);
  return view.at([box[0] + box[2] * along, box[1] + box[3] * down]);
}

/// In the middle of what is put on a panel; below the panel's number and name where those stand there.
function appliedAt(panel: Panel, applied: Panel["applied"][number], view: View): Place {
  const [x, y] = view.at(applied.place);
  if (!panel.box) return [x, y + 5];
  const [nx, ny] = numberAt(panel, panel.box, view);
  const reach = (letter_px * Math.max(applied.id.length, panel.name.length)) / 2 + 12;
  return Math.abs(x - nx) < reach && y > ny - 24 && y < ny + 38 ? [x, ny + 40] : [x, y + 5];
}

/// Whether a name in the middle of a small panel lies on one of its openings.
const overAHole = (panel: Panel, [x, y]: Place, view: View): boolean =>
  panel.openings.some((o) => {
    const [ox, oy] = view.at(o.place);
    const [wide, high] = [(letter_px * panel.name.length) / 2, 10].map((half) => half + (o.diameter.mm * view.scale) / 2);
    return Math.abs(x - ox) < (wide ?? 0) && Math.abs(y - oy) < (high ?? 0);
  });

/// A name stands below its number where it lies within the panel and on no opening of it.
function nameFits(panel: Panel, box: Box, [x, y]: Place, view: View): boolean {
  const half = (letter_px * panel.name.length) / 2;
  const [left, bottom] = view.at([box[0], box[1] + box[3]]);
  const inside = x - half > left && x + half < left + box[2] * view.scale && y + 24 < bottom;
  return inside && !overAHole(panel, [x, y + 15], view);
}

/// What numbers and names take of the screen.
const takenBy = (panels: Panel[], view: View): Room[] =>
  panels.flatMap((p): Room[] => {
    if (!p.box) return [];
    const [x, y] = numberAt(p, p.box, view);
    const half = (letter_px * p.name.length) / 2;
    const number: Room = [x - 14, y - 20, x + 14, y + 3];
    return nameFits(p, p.box, [x, y], view) ? [number, [x - half, y + 7, x + half, y + 24]] : [number];
  });

/// What the marks of its openings take.
const openingRooms = (panel: Panel | undefined, view: View): Room[] =>
  panel?.openings.map((o): Room => {
    const [x, y] = view.at(o.place);
    return [x - 18, y - 18, x + 18, y + 18];
  }) ?? [];

/// In the middle of an opening; of one for a lid beside the middle, where the lid has its number.
function markAt(panel: Panel, opening: Panel["openings"][number], panels: Panel[]): Place {
  const said = openJob.value?.said.panels?.find((p) => p.id === panel.id)?.openings?.find((o) => o.id === opening.id);
  const box = said?.lid === undefined ? null : (panels.find((p) => p.id === said.lid)?.box ?? null);
  return box ? [box[0] + 0.18 * box[2], box[1] + 0.25 * box[3]] : opening.place;
}

export function PanelsDrawing({ space, panels, panel }: { space: Space | undefined; panels: Panel[]; panel: Panel | undefined }) {
  const survey = space?.survey ?? null;
  const box = around([survey?.box ?? null, ...panels.map((p) => p.box)]);
  const lines = ({ scale }: View) => (
    <>
      {survey?.strokes
        .filter((s) => s.kind === "side" || s.kind === "curve")
        .map((s) => (
          <path key={s.from + s.to} d={s.d} fill="none" stroke="var(--ink-2)" stroke-width="1.2" stroke-dasharray="2 4" />
        ))}
      {panels.map((p) => (
        <g key={p.id}>
          <path
            d={p.net}
            fill={p === panel ? "var(--sea-wash)" : "var(--card)"}
            fill-rule="evenodd"
            stroke="var(--ink)"
            stroke-width={p === panel ? 2.6 : 1.6}
            style={{ cursor: "pointer" }}
            onClick={() => choose("panel", p.id)}
          />
        </g>
      ))}
      {panel && (
        <g pointer-events="none">
          <path d={panel.boat} fill="none" stroke="var(--ink-2)" stroke-width="1.2" />
          {panel.applied.map((a) => (
            <path
              key={a.id}
              d={a.set}
              fill={here("applied", `${panel.id}/${a.id}`) ? "var(--sea-wash)" : "none"}
              stroke="var(--ink)"
              stroke-width="1.4"
              stroke-dasharray={a.side === "back" ? "3 3" : undefined}
            />
          ))}
          {panel.face && <path d={panel.face} fill="none" stroke="var(--sea)" stroke-width="1.6" stroke-dasharray="7 4" />}
        </g>
      )}
      {panels.map((p) =>
        p.edges.map((e, i) => (
          <g key={p.id + e.name}>
            {isHere(p, i) && <path d={e.net} fill="none" stroke="var(--sea)" stroke-width="7" />}
            {(p === panel || !panel) && (
              <path
                class="l-touch"
                d={e.net}
                stroke-width={22 / scale}
                onClick={() => choosePart(p, i)}
              />
            )}
          </g>
        )),
      )}
      {space && <JointLines space={space} scale={scale} />}
      <ProposedLines panel={panel} />
    </>
  );
  const marks = (view: View) => (
    <>
      {panels.map((p) => {
        if (!p.box) return null;
        const [x, y] = numberAt(p, p.box, view);
        return (
          <g key={p.id} pointer-events="none">
            <text class="name" x={x} y={y} text-anchor="middle" style={{ fontSize: "22px" }}>
              {p.number ?? "–"}
            </text>
            {nameFits(p, p.box, [x, y], view) && (
              <text x={x} y={y + 20} text-anchor="middle" style={{ fontSize: "14px", fill: "var(--ink-2)" }}>
                {p.name}
              </text>
            )}
          </g>
        );
      })}
      {panels.flatMap((p) =>
        p.studs.map((s) => {
          const [x, y] = view.at(s.place);
          return (
            <g key={p.id + s.id} pointer-events="none">
              <circle cx={x} cy={y} r="4" fill="none" stroke="var(--ink)" stroke-width="1.6" />
              <circle cx={x} cy={y} r="1.2" fill="var(--ink)" />
            </g>
          );
        }),
      )}
      {panel?.applied.map((a) => {
        const [x, y] = appliedAt(panel, a, view);
        const id = `${panel.id}/${a.id}`;
        return (
          <text
            key={a.id}
            class="halo name"
            x={x}
            y={y}
            text-anchor="middle"
            style={{ fontSize: "14px", cursor: "pointer", fill: here("applied", id) ? "var(--sea)" : "var(--ink)" }}
            onClick={() => choose("applied", id)}
          >
            {a.id}
          </text>
        );
      })}
      <ProposedMarks panel={panel} view={view} taken={[...takenBy(panels, view), ...openingRooms(panel, view)]} />
      {space && <JointMarks space={space} view={view} taken={takenBy(panels, view)} />}
      {panel?.openings.map((o) => {
        const [x, y] = view.at(markAt(panel, o, panels));
        const id = `${panel.id}/${o.id}`;
        return (
          <g key={o.id} onClick={() => choose("opening", id)} style={{ cursor: "pointer" }}>
            <circle cx={x} cy={y} r="16" fill={here("opening", id) ? "var(--sea-wash)" : "transparent"} stroke="var(--sea)" stroke-width="1.6" />
            <path d={`M${x - 8} ${y}h16M${x} ${y - 8}v16`} stroke="var(--ink)" />
          </g>
        );
      })}
      {!picking.value && panel?.corners.map((c) => {
        if (!c.place || openingAt(c.at) !== null) return null;
        const [x, y] = view.at(c.place);
        const id = `${panel.id}/${c.at}`;
        // Outward, so that it does not lie on a snap in the corner.
        const [left, low] = panel.box
          ? [c.place[0] < panel.box[0] + panel.box[2] / 2, c.place[1] > panel.box[1] + panel.box[3] / 2]
          : [false, false];
        return (
          <g key={c.at} onClick={() => choose("corner", id)} style={{ cursor: "pointer" }}>
            <circle cx={x} cy={y} r="15" fill="transparent" />
            <circle cx={x} cy={y} r="7" fill={here("corner", id) ? "var(--sea)" : "var(--card)"} stroke="var(--ink)" stroke-width="1.8" />
            <text class="halo name" x={left ? x - 12 : x + 12} y={low ? y + 20 : y - 9} text-anchor={left ? "end" : "start"} style={{ fontSize: "14px" }}>
              {c.at}
            </text>
          </g>
        );
      })}
      {picking.value &&
        picking.value.most > 0 &&
        survey?.points.map((p) => {
          const [x, y] = view.at(p.at);
          const taken = picking.value?.names.includes(p.name) ?? false;
          return (
            <g
              key={p.name}
              style={{ cursor: "pointer" }}
              onClick={() => tapPoint(p.name)}
            >
              <circle cx={x} cy={y} r="13" fill={taken ? "var(--ink)" : "var(--card)"} stroke="var(--ink)" stroke-width="1.6" />
              <text x={x} y={y + 5} text-anchor="middle" style={{ fontSize: "12px", fill: taken ? "var(--on-ink)" : "var(--ink)" }}>
                {p.name}
              </text>
            </g>
          );
        })}
    </>
  );
  const nothing =
    !survey && panels.length === 0 ? (
      <div class="side">
        <h2>{words.noPanels}</h2>
        <p>{words.noPanelsHelp}</p>
      </div>
    ) : undefined;
  return (
    <Drawing
      name={`${words.panels}, ${words.seenFromAbove}`}
      subject={`${openJob.value?.id ?? ""}/panels/${space?.id ?? ""}`}
      box={box}
      seenFrom={words.seenFromAbove}
      lines={lines}
      marks={marks}
      empty={nothing}
      list={
        <ul>
          {panels.map((p) => (
            <li key={p.id}>
              <button class="plain" onClick={() => choose("panel", p.id)}>
                {p.number ?? "–"} {p.name}
              </button>
              <ul style={{ paddingLeft: "20px" }}>
                {p.edges.map((e, i) => (
                  <li key={e.name}>
                    <button class="plain" onClick={() => choosePart(p, i)}>
                      <span>
                        <Prose text={`${e.name}: ${e.length ? lengthText(e.length) : "–"}, ${e.situation}, ${e.finish}`} />
                      </span>
                    </button>
                  </li>
                ))}
                {p.openings.map((o) => (
                  <li key={o.id}>
                    <button class="plain" onClick={() => choose("opening", `${p.id}/${o.id}`)}>
                      {`${words.opening(o.id)}, ${words.openingForms[o.form]?.[0]?.toLowerCase() ?? ""}, ${o.finish}`}
                    </button>
                  </li>
                ))}
                {p.applied.map((a) => (
                  <li key={a.id}>
                    <button class="plain" onClick={() => choose("applied", `${p.id}/${a.id}`)}>
                      {`${words.applied(a.kind, a.id)}, ${a.side}`}
                    </button>
                  </li>
                ))}
              </ul>
            </li>
          ))}
        </ul>
      }
    />
  );
}
