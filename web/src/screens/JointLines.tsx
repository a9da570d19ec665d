// Stored joints on the panels' drawing: each stretch as measured, its name, and the letters that both neighbours carry.
import type { Place, Space } from "../core/answers";
import type { View } from "../draw/Drawing";
import { apart, nameOnLine, type Room } from "../draw/names";
import { choose, chosen, derived } from "../state/store";
import { words } from "../words/en";
import { jointsOf } from "./AtJoint";

/// Its stretches as paths of the drawing: the measured curve between two points, else straight.
function stretches(space: Space, through: string[]): string[] {
  const survey = space.survey;
  const at = (name: string): Place | undefined => survey?.points.find((p) => p.name === name)?.at;
  return through.slice(1).flatMap((to, i) => {
    const from = through[i] ?? "";
    const curve = survey?.strokes.find(
      (s) => s.kind === "curve" && ((s.from === from && s.to === to) || (s.from === to && s.to === from)),
    );
    const [a, b] = [at(from), at(to)];
    return curve ? [curve.d] : a && b ? [`M${a[0]} ${a[1]}L${b[0]} ${b[1]}`] : [];
  });
}

export function JointLines({ space, scale }: { space: Space; scale: number }) {
  return (
    <>
      {jointsOf(space.id).map((j) => {
        const id = `${space.id}/${j.id}`;
        const here = chosen.value?.kind === "joint" && chosen.value.id === id;
        return stretches(space, j.through).map((d) => (
          <g key={id + d}>
            <path d={d} fill="none" stroke={here ? "var(--sea)" : "var(--ink)"} stroke-width={here ? 5 : 2} stroke-dasharray="12 4 2 4" />
            <path class="l-touch" d={d} stroke-width={20 / scale} onClick={() => choose("joint", id)} />
          </g>
        ));
      })}
    </>
  );
}

/// The name of each joint; the chosen one says which of its sides is the left.
/// `taken`: by numbers and names of panels. A letter that finds no room beside them waits until the drawing is larger.
export function JointMarks({ space, view, taken }: { space: Space; view: View; taken: Room[] }) {
  const rooms = [...taken];
  const hasRoom = (x: number, y: number, letters: number): boolean => {
    const room: Room = [x - 4.2 * letters, y - 11, x + 4.2 * letters, y + 2];
    if (rooms.some((r) => !apart(r, room))) return false;
    rooms.push(room);
    return true;
  };
  const at = (name: string) => space.survey?.points.find((p) => p.name === name)?.at;
  return (
    <g pointer-events="none">
      {derived.value.match_marks
        .filter((m) => m.space === space.id)
        .flatMap((m) => {
          const [x, y] = view.at(m.place);
          return [1, -1].map((side) => {
            const [tx, ty] = [x + 18 * side * m.across[0], y + 18 * side * m.across[1] + 5];
            if (!hasRoom(tx, ty, m.letter.length)) return null;
            return (
              <text key={`${m.letter}${side}`} class="halo" x={tx} y={ty} text-anchor="middle" style={{ fontSize: "13px", fill: "var(--ink-2)" }}>
                {m.letter}
              </text>
            );
          });
        })}
      {jointsOf(space.id).map((j) => {
        const first = at(j.through[0] ?? "");
        const last = at(j.through[j.through.length - 1] ?? "");
        if (!first || !last) return null;
        const here = chosen.value?.kind === "joint" && chosen.value.id === `${space.id}/${j.id}`;
        const [[ax, ay], [bx, by]] = [view.at(first), view.at(last)];
        const long = Math.hypot(bx - ax, by - ay) || 1;
        // To the left of the way from the first point, on a screen whose y runs down.
        const [lx, ly] = [(by - ay) / long, -(bx - ax) / long];
        const third: Place = [ax + (bx - ax) * 0.3, ay + (by - ay) * 0.3];
        const label = (key: string, said: string, away: number) => (
          <text key={key} class="halo name" x={third[0] + away * lx} y={third[1] + away * ly + 5} text-anchor="middle" style={{ fontSize: "15px" }}>
            {said}
          </text>
        );
        const named = (name: string) => {
          const [x, y] = nameOnLine(name, 15, [[ax, ay], [bx, by]], 16, rooms);
          return (
            <text class="halo name" x={x} y={y} text-anchor="middle" style={{ fontSize: "15px" }}>
              {name}
            </text>
          );
        };
        return (
          <g key={j.id}>
            {here
              ? [
                  label("left", words.leftWord, 34),
                  label("right", words.rightWord, -34),
                  ...[j.through[0], j.through[j.through.length - 1]].map((name, i) => (
                    <text key={name} class="halo name" x={(i ? bx : ax) + 12} y={(i ? by : ay) + 5} style={{ fontSize: "15px" }}>
                      {name}
                    </text>
                  )),
                ]
              : named(j.id)}
          </g>
        );
      })}
    </g>
  );
}
