// Where the number of a piece stands, so that it does not lie in a hole or on a snap.
import type { Box, Panel, Place } from "../core/answers";

/// Of a number; a name stands only where there is more.
const numberWidth_px = 30;
/// Snaps near the edge keep clear of every name by themselves.
const rim = 0.2;
const inside = ([x, y]: Place, [left, top, wide, high]: Box): boolean =>
  Math.abs((x - left) / wide - 0.5) < 0.5 - rim && Math.abs((y - top) / high - 0.5) < 0.5 - rim;

/// A share of a piece that lies turned on the roll, by quarter turns counter-clockwise as seen from the face.
export function turnedShare([along, down]: [number, number], turns: number, back: boolean): [number, number] {
  let place: [number, number] = [along, back ? 1 - down : down];
  for (let i = 0; i < turns; ++i) place = [place[1], 1 - place[0]];
  return back ? [place[0], 1 - place[1]] : place;
}

/// As shares of the piece's width and height on the drawing: its middle, or the first place beside that no opening is near,
/// where there is room for a number. `scale`: pixels to a millimetre.
export function labelShare(panel: Panel, back: boolean, scale: number): [number, number] {
  const box = panel.box;
  if (!box) return [0.5, 0.5];
  const free = ([along, down]: [number, number]) =>
    ![...panel.openings, ...panel.studs.filter((s) => inside(s.place, box))].some(
      ({ place: [x, y] }) =>
        Math.abs((x - box[0]) / box[2] - along) < 0.25 && Math.abs((y - box[1]) / box[3] - (back ? 1 - down : down)) < 0.3,
    );
  const beside: [number, number][] = box[2] > box[3] && 0.4 * box[2] * scale > numberWidth_px ? [[0.2, 0.5], [0.8, 0.5]] : [];
  const places: [number, number][] = [[0.5, 0.5], ...beside, [0.5, 0.2], [0.5, 0.8], [0.2, 0.2], [0.8, 0.2], [0.2, 0.8], [0.8, 0.8]];
  return places.find(free) ?? [0.5, 0.2];
}
