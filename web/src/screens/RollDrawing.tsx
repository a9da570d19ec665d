// The roll to scale: pieces dragged, pinned and told at once whether they may lie there; flaws and where the pattern repeats.
import { signal } from "@preact/signals";
import { useRef, useState } from "preact/hooks";
import { core } from "../core/core";
import type { Box, Derived, GivenLayout, Layout, PlacedPiece } from "../core/answers";
import { Drawing, type View } from "../draw/Drawing";
import { bound } from "../state/jobs";
import { choose, chosen, openJob, said, tell, triedLayout } from "../state/store";
import { inShownUnits, Prose, SvgText } from "../parts/Text";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { labelShare, turnedShare } from "./labels";

export const rollFromBack = signal(false);
/// Pieces that stay where a person put them when a better layout is looked for.
export const pinned = signal<ReadonlySet<string>>(new Set());

export function togglePin(piece: string): void {
  const now = new Set(pinned.value);
  if (!now.delete(piece)) now.add(piece);
  pinned.value = now;
}

export const plain = (layout: Layout): GivenLayout => ({
  placements: layout.placements.map(({ piece, x_um, y_um, turns, stretch }) => ({ piece, x_um, y_um, turns, stretch })),
  rounds: layout.rounds,
  stretches: layout.stretches.length,
});

const um_of_mm = 1000;
/// An arrow key moves by a millimetre, with Shift by ten.
const keyStep_um = 1000;

interface Drag {
  piece: string;
  dx: number;
  dy: number;
  legal: boolean;
  why: string;
}

export function RollDrawing({ now }: { now: Derived }) {
  const job = openJob.value;
  const roll = now.roll;
  const layout = roll?.layout ?? null;
  const [drag, setDrag] = useState<Drag | null>(null);
  const from = useRef<{ x: number; y: number } | null>(null);
  const frame = useRef(0);
  const scaleNow = useRef(1);
  if (!roll || !job) return null;
  const back = rollFromBack.value;
  const least_mm = bound.value?.mm ?? 0;
  const several = (layout?.stretches.length ?? 0) > 0;
  // On the drawing y goes down; on the roll it goes up from the lower selvedge, and seen from the back the other way.
  const up = back ? 1 : -1;

  const movedBy = (piece: string, x_um: number, y_um: number): GivenLayout | null => {
    if (!layout) return null;
    const moved = plain(layout);
    moved.placements = moved.placements.map((p) =>
      p.piece === piece ? { ...p, x_um: Math.round(p.x_um + x_um), y_um: Math.round(p.y_um + y_um) } : p,
    );
    return moved;
  };
  /// Puts it there, or as near on the way as it may lie, and says which.
  const move = (piece: string, x_um: number, y_um: number) => {
    const before = layout?.placements.find((p) => p.piece === piece);
    if (!layout || !before) return;
    const answer = core.slidePiece(job.text, plain(layout), piece, Math.round(before.x_um + x_um), Math.round(before.y_um + y_um));
    if (!answer.ok) return tell(answer.findings[0]?.says ?? words.notLegal, true);
    if (answer.x_um !== before.x_um || answer.y_um !== before.y_um) {
      triedLayout.value = movedBy(piece, answer.x_um - before.x_um, answer.y_um - before.y_um);
      pinned.value = new Set([...pinned.value, piece]);
    }
    if (!answer.legal) tell(say.nearest(answer.findings[0]?.says ?? words.notLegal));
    else said.value = null;
  };
  const dragTo = (piece: string, x: number, y: number) => {
    const dx = (x - (from.current?.x ?? x)) / scaleNow.current;
    const dy = (y - (from.current?.y ?? y)) / scaleNow.current;
    const moved = movedBy(piece, dx * um_of_mm, up * dy * um_of_mm);
    const answer = moved ? core.checkLayout(job.text, moved) : null;
    const legal = answer?.ok === true && answer.legal;
    setDrag({ piece, dx, dy, legal, why: legal ? "" : (answer?.findings[0]?.says ?? "") });
  };
  const release = () => {
    cancelAnimationFrame(frame.current);
    if (drag && (drag.dx !== 0 || drag.dy !== 0)) move(drag.piece, drag.dx * um_of_mm, up * drag.dy * um_of_mm);
    setDrag(null);
    from.current = null;
  };
  const lines = ({ scale }: View) => {
    scaleNow.current = scale;
    return (
      <>
        <path d={back ? roll.strip_back : roll.strip} fill="var(--goods)" stroke="var(--ink)" stroke-width="1.6" />
        {roll.repeat && <path d={back ? roll.repeat.back : roll.repeat.face} fill="none" stroke="var(--faint)" stroke-width="1" stroke-dasharray="3 3" />}
        {layout?.cuts_across.map((cut) => (
          <path key={cut.face} d={back ? cut.back : cut.face} fill="none" stroke="var(--ink-2)" stroke-width="1.4" stroke-dasharray="12 5" pointer-events="none" />
        ))}
        {layout?.placements.map((p) => (
          <Placed
            key={p.piece}
            p={p}
            d={back ? p.back : p.face}
            moved={drag?.piece === p.piece ? drag : null}
            onDown={(e) => {
              choose("piece", p.piece);
              from.current = { x: e.clientX, y: e.clientY };
              (e.currentTarget as Element).setPointerCapture(e.pointerId);
            }}
            onMove={(e) => {
              if (!from.current) return;
              const { clientX, clientY } = e;
              cancelAnimationFrame(frame.current);
              frame.current = requestAnimationFrame(() => dragTo(p.piece, clientX, clientY));
            }}
            onUp={release}
            onKey={(e) => {
              if (e.key === "p") return togglePin(p.piece);
              if (e.key === "t" && roll.direction !== "one way") return turnPiece(now, p.piece);
              const far = e.shiftKey ? 10 * keyStep_um : keyStep_um;
              const ways: Record<string, [number, number]> = {
                ArrowLeft: [-far, 0],
                ArrowRight: [far, 0],
                ArrowUp: [0, -up * far],
                ArrowDown: [0, up * far],
              };
              const way = ways[e.key];
              if (!way) return;
              e.preventDefault();
              move(p.piece, way[0], way[1]);
            }}
          />
        ))}
        {layout?.fillers.map((f) => (
          <path key={f.piece} d={back ? f.back : f.face} fill="none" stroke="var(--ink-2)" stroke-width="1.2" pointer-events="none" />
        ))}
        {roll.flaws.map((f) => (
          <path key={f.name} d={back ? f.back : f.face} fill="var(--signal-wash)" stroke="var(--signal)" stroke-width="2" pointer-events="none" />
        ))}
      </>
    );
  };
  const box = roll.box;
  /// `box` is of the face; from the back the goods are turned over about the middle of the usable width.
  const fromSide = ([x, y, w, h]: Box): Box => (back ? [x, -roll.usable_width.mm - y - h, w, h] : [x, y, w, h]);
  const length = (mm: number) => `${inShownUnits(mm)} ${now.units}`;
  const marks = (view: View) => (
    <>
      {layout?.stretches.map((s) => <LengthName key={s.name} view={view} box={fromSide(s.box)} name={s.name} more={s.offcut ? "" : `${length(s.used.mm)} ${words.used.toLowerCase()}`} />)}
      {layout && box && !several && <Limit view={view} x={layout.used.mm} top={box[1]} bottom={box[1] + box[3]} says={`${length(layout.used.mm)} ${words.used.toLowerCase()}`} strong />}
      {layout && box && least_mm > 0 && <Limit view={view} x={least_mm} top={box[1]} bottom={box[1] + box[3]} says={`${words.cannotBeShorter.toLowerCase()} ${length(least_mm)}`} />}
      {layout?.fillers.map((f) => <FillerName key={f.piece} view={view} box={fromSide(f.box)} name={f.name} />)}
      {layout?.placements.map((p) => {
        const y = fromSide(p.box)[1];
        const dx = drag?.piece === p.piece ? drag.dx : 0;
        const dy = drag?.piece === p.piece ? drag.dy : 0;
        const panel = now.panels.find((x) => x.id === p.piece);
        const [along, down] = panel ? turnedShare(labelShare(panel, back, view.scale), p.turns, back) : [0.5, 0.5];
        const [cx, cy] = view.at([p.box[0] + p.box[2] * along + dx, y + p.box[3] * down + dy]);
        const room = 2 * Math.min(along, 1 - along) * p.box[2] * view.scale;
        const tall = p.box[3] * view.scale > 84;
        const roomUp = p.box[3] * view.scale * Math.min(down, 1 - down);
        return (
          <g key={p.piece} pointer-events="none">
            {tall && roomUp > (p.turns % 2 ? 62 : 42) && (
              <path
                d="M-16 0h30m-7 -5l7 5l-7 5"
                transform={`translate(${cx} ${cy - (p.turns % 2 ? 42 : 38)}) rotate(${(back ? 90 : -90) * p.turns})`}
                fill="none"
                stroke="var(--ink-2)"
                stroke-width="1.6"
              />
            )}
            <text class="name" x={cx} y={tall ? cy : cy + 8} text-anchor="middle" style={{ fontSize: "24px" }}>
              {p.called}
            </text>
            {pinned.value.has(p.piece) && <Pin x={cx + 22} y={cy - 8} />}
            {tall && room > 90 && (down === 0.5 || roomUp > 44) && (
              <text x={cx} y={cy + 21} text-anchor="middle" style={{ fontSize: "14px" }}>
                {panel?.name ?? ""}
              </text>
            )}
          </g>
        );
      })}
    </>
  );
  return (
    <>
      <Drawing
        name={words.stages.roll}
        subject={`${job.id}/roll/${back}`}
        box={box && box[2] > 0 ? withNames(fromSide(box), several) : [0, -roll.usable_width.mm, roll.usable_width.mm * 1.4, roll.usable_width.mm]}
        seenFrom={back ? words.hook : words.seenFromFace}
        fromBack={back}
        lines={lines}
        marks={marks}
        note={roll.repeat ? ` · ${say.repeats(length(roll.repeat.along.mm), length(roll.repeat.across.mm))}` : ""}
        list={
          <ul>
            {layout?.placements.map((p) => (
              <li key={p.piece}>
                <button class="plain" onClick={() => choose("piece", p.piece)}>
                  <Prose text={`${words.piece(p.called, now.pieces.find((x) => x.id === p.piece)?.name ?? "")}: ${say.liesAt(length(p.from_cut_end.mm), length(p.from_selvedge.mm), layout.stretches[p.stretch]?.name ?? "", p.turns)}${pinned.value.has(p.piece) ? `, ${say.isPinned}` : ""}`} />
                </button>
              </li>
            ))}
            {layout?.fillers.map((f) => (
              <li key={f.piece}>
                <Prose text={`${f.name}: ${say.liesAt(length(f.from_cut_end.mm), length(f.from_selvedge.mm), "", 0)}`} />
              </li>
            ))}
            {layout?.cuts_across.map((cut) => (
              <li key={cut.face}>
                <Prose text={say.cutAcross(length(cut.at.mm), layout.stretches[cut.stretch]?.name ?? "")} />
              </li>
            ))}
            {roll.flaws.map((f) => (
              <li key={f.name}>
                <Prose text={say.flawIs(f.name, length(f.from.mm), length(f.to.mm))} />
              </li>
            ))}
          </ul>
        }
      />
      {drag && (
        <p class={`drag-says${drag.legal ? "" : " bad"}`} aria-hidden="true">
          <Prose text={drag.legal ? say.mayLieHere : drag.why} />
        </p>
      )}
    </>
  );
}

/// Turns a piece about its middle, a half turn or a quarter as the goods let it; where it has no room so, it stays.
export function turnPiece(now: Derived, piece: string): void {
  const job = openJob.value;
  const layout = now.roll?.layout;
  const was = layout?.placements.find((p) => p.piece === piece);
  if (!job || !layout || !was) return;
  const by = now.roll?.direction === "half turn" ? 2 : 1;
  // The drawing has y down and further lengths beside the first; the middle is wanted where the piece itself lies.
  const middle_um = [
    um_of_mm * (was.from_cut_end.mm + was.box[2] / 2),
    um_of_mm * (was.from_selvedge.mm + was.box[3] / 2),
  ] as const;
  const [dx, dy] = [middle_um[0] - was.x_um, middle_um[1] - was.y_um];
  const [rx, ry] = by === 2 ? [-dx, -dy] : [-dy, dx];
  const turned = plain(layout);
  turned.placements = turned.placements.map((p) =>
    p.piece === piece
      ? { ...p, turns: ((p.turns ?? 0) + by) % 4, x_um: Math.round(middle_um[0] - rx), y_um: Math.round(middle_um[1] - ry) }
      : p,
  );
  const answer = core.checkLayout(job.text, turned);
  if (!answer.ok || !answer.legal) return tell(say.noRoomTurned(answer.findings[0]?.says ?? ""), true);
  triedLayout.value = turned;
  pinned.value = new Set([...pinned.value, piece]);
}

/// Room below for the names of several lengths.
const withNames = ([x, y, w, h]: Box, several: boolean): Box => [x, y, w, several ? 1.15 * h : h];

/// A filler is named where its name finds room; the list beside names each.
function FillerName({ view, box, name }: { view: View; box: Box; name: string }) {
  const [x, y] = view.at([box[0] + box[2] / 2, box[1] + box[3] / 2]);
  if (7 * name.length > box[2] * view.scale || box[3] * view.scale < 16) return null;
  return (
    <text x={x} y={y + 5} text-anchor="middle" pointer-events="none" style={{ fontSize: "13px", fill: "var(--ink-2)" }}>
      {name}
    </text>
  );
}

/// Under a length of goods: which it is.
function LengthName({ view, box, name, more }: { view: View; box: Box; name: string; more: string }) {
  const [x, y] = view.at([box[0], box[1] + box[3]]);
  const room = box[2] * view.scale;
  return (
    <g pointer-events="none">
      <text class="halo name" x={x} y={y + 20} style={{ fontSize: "15px" }}>
        {room < 9 * name.length && name.includes(", ") ? name.split(", ")[0] : name}
      </text>
      {more && (
        <text class="halo" x={x} y={y + 39} style={{ fontSize: "14px" }}>
          <SvgText text={more} />
        </text>
      )}
    </g>
  );
}

/// A pushpin seen from the side.
function Pin({ x, y }: { x: number; y: number }) {
  return (
    <g transform={`translate(${x} ${y})`} fill="var(--sea)" stroke="var(--sea)">
      <path d="M-5 -10H5L3 -2H-3Z" />
      <path d="M0 -2V8" fill="none" stroke-width="2" />
    </g>
  );
}

function Placed(props: {
  p: PlacedPiece;
  d: string;
  moved: Drag | null;
  onDown: (e: PointerEvent) => void;
  onMove: (e: PointerEvent) => void;
  onUp: () => void;
  onKey: (e: KeyboardEvent) => void;
}) {
  const here = chosen.value?.kind === "piece" && chosen.value.id === props.p.piece;
  const bad = props.moved !== null && !props.moved.legal;
  return (
    <path
      class="placed"
      d={props.d}
      data-drag
      tabIndex={0}
      role="button"
      aria-label={`${words.piece(props.p.called, "")}${pinned.value.has(props.p.piece) ? `, ${say.isPinned}` : ""}`}
      aria-pressed={here}
      transform={props.moved ? `translate(${props.moved.dx} ${props.moved.dy})` : undefined}
      fill={bad ? "var(--signal-wash)" : "var(--card)"}
      fill-rule="evenodd"
      stroke={bad ? "var(--signal)" : props.moved ? "var(--sea)" : "var(--ink)"}
      stroke-width={here ? 3.4 : 1.8}
      stroke-dasharray={bad ? "7 5" : undefined}
      style={{ cursor: "move" }}
      onFocus={() => choose("piece", props.p.piece)}
      onPointerDown={props.onDown}
      onPointerMove={props.onMove}
      onPointerUp={props.onUp}
      onPointerCancel={props.onUp}
      onKeyDown={props.onKey}
    />
  );
}

function Limit({ view, x, top, bottom, says, strong }: { view: View; x: number; top: number; bottom: number; says: string; strong?: boolean }) {
  const [x1, y1] = view.at([x, top]);
  const [, y2] = view.at([x, bottom]);
  return (
    <g pointer-events="none">
      <path
        d={`M${x1} ${y1 - 12}V${y2 + 8}`}
        stroke={strong ? "var(--ink)" : "var(--sea)"}
        stroke-width={strong ? 2.4 : 1.8}
        stroke-dasharray={strong ? "none" : "6 4"}
      />
      <text class="halo limit" x={x1 + (strong ? 6 : -6)} y={y1 - 16} text-anchor={strong ? "start" : "end"} style={{ fontSize: "15px", fontWeight: strong ? 600 : 400, fill: strong ? "var(--ink)" : "var(--sea)" }}>
        {says}
      </text>
    </g>
  );
}
