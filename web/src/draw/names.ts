// Names of points on a drawing, each where it lies on no other name and on no other point.
import type { Place } from "../core/answers";

export interface NamedPoint {
  name: string;
  /// On the screen.
  at: Place;
  size_px: number;
}
export interface NamePlace {
  x: number;
  y: number;
  anchor: "start" | "middle" | "end";
}
/// What is taken of the screen.
export type Room = [left: number, top: number, right: number, bottom: number];

/// What a letter takes of its size, and a point of the screen.
const letterWide = 0.64;
const dot_px = 5;
/// Straight away from the middle first, then to either side of that, then a little farther off.
const turns_deg = [0, 40, -40, 80, -80, 120, -120, 180];
const reaches_px = [17, 27];

export const apart = (a: Room, b: Room): boolean => a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];

/// Those that come first choose first; one that finds no room stands away from the middle all the same.
export function placeNames(points: NamedPoint[], middle: Place): Map<string, NamePlace> {
  const dots = points.map(({ at: [x, y] }): Room => [x - dot_px, y - dot_px, x + dot_px, y + dot_px]);
  const taken: Room[] = [];
  const places = new Map<string, NamePlace>();
  points.forEach((p, index) => {
    const [x, y] = p.at;
    const away = Math.atan2(y - middle[1], x - middle[0]);
    let chosen: { place: NamePlace; room: Room } | undefined;
    for (const reach of reaches_px)
      for (const turn of turns_deg) {
        const tried = standing(p, away + (turn * Math.PI) / 180, reach);
        chosen ??= tried;
        if (taken.some((t) => !apart(t, tried.room)) || dots.some((d, i) => i !== index && !apart(d, tried.room))) continue;
        places.set(p.name, tried.place);
        taken.push(tried.room);
        return;
      }
    if (!chosen) return;
    places.set(p.name, chosen.place);
    taken.push(chosen.room);
  });
  return places;
}

/// Along a line, near its first third before farther off.
const shares = Array.from({ length: 21 }, (_, i) => 0.1 + 0.04 * i).sort((a, b) => Math.abs(a - 0.3) - Math.abs(b - 0.3));

/// The middle of a name's foot beside a line, `away` px to the left of the way from its first place or else to the right, where it lies on
/// nothing that is taken; near the first third when there is no such place. What it takes is taken then.
export function nameOnLine(name: string, size_px: number, [from, to]: [Place, Place], away: number, taken: Room[]): Place {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const long = Math.hypot(dx, dy) || 1;
  const half = (letterWide * size_px * name.length) / 2;
  const at = (share: number, off: number): Place => [from[0] + share * dx + (off * dy) / long, from[1] + share * dy - (off * dx) / long + 0.36 * size_px];
  const room = ([x, y]: Place): Room => [x - half, y - 0.75 * size_px, x + half, y + 0.15 * size_px];
  const places = [away, -away].flatMap((off) => shares.map((share) => at(share, off)));
  const chosen = places.find((place) => taken.every((t) => apart(t, room(place)))) ?? at(0.3, away);
  taken.push(room(chosen));
  return chosen;
}

function standing(p: NamedPoint, way: number, reach: number): { place: NamePlace; room: Room } {
  const dx = Math.cos(way);
  const wide = letterWide * p.size_px * p.name.length;
  const x = p.at[0] + reach * dx;
  const y = p.at[1] + reach * Math.sin(way) + 0.36 * p.size_px;
  const anchor = dx > 0.5 ? "start" : dx < -0.5 ? "end" : "middle";
  const left = anchor === "start" ? x : anchor === "end" ? x - wide : x - wide / 2;
  return { place: { x, y, anchor }, room: [left, y - 0.75 * p.size_px, left + wide, y + 0.05 * p.size_px] };
}
