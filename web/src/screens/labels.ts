// Where the number of a piece stands, so that it does not lie in a hole.
import type { Panel } from "../core/answers";

const nameWidth_px = 96;

/// As shares of the piece's width and height on the drawing: its middle, or beside a hole that is near the middle, where
/// there is room for a name. `scale`: pixels to a millimetre.
export function labelShare(panel: Panel, back: boolean, scale: number): [number, number] {
  const box = panel.box;
  if (!box) return [0.5, 0.5];
  const taken = panel.openings.some(
    ({ place: [x, y] }) =>
      Math.abs((x - box[0]) / box[2] - 0.5) < 0.25 && Math.abs((y - box[1]) / box[3] - 0.5) < 0.3,
  );
  if (!taken) return [0.5, 0.5];
  if (box[2] > box[3] && 0.4 * box[2] * scale > nameWidth_px) return [0.2, 0.5];
  return [0.5, back ? 0.8 : 0.2];
}
