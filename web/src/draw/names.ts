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

function standing(p: NamedPoint, way: number, reach: number): { place: NamePlace; room: Room } {
  const dx = Math.cos(way);
  const wide = letterWide * p.size_px * p.name.length;
  const x = p.at[0] + reach * dx;
  const y = p.at[1] + reach * Math.sin(way) + 0.36 * p.size_px;
  const anchor = dx > 0.5 ? "start" : dx < -0.5 ? "end" : "middle";
  const left = anchor === "start" ? x : anchor === "end" ? x - wide : x - wide / 2;
  return { place: { x, y, anchor }, room: [left, y - 0.75 * p.size_px, left + wide, y + 0.05 * p.size_px] };
}
