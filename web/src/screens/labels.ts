// Where the number of a piece stands, so that it does not lie in a hole.
import type { Panel } from "../core/answers";

/// As a share of the piece's height on the drawing: its middle, or a quarter where a hole is near the middle.
export function labelShare(panel: Panel, back: boolean): number {
  const box = panel.box;
  if (!box) return 0.5;
  const taken = panel.openings.some(
    ({ place: [x, y] }) =>
      Math.abs((x - box[0]) / box[2] - 0.5) < 0.25 && Math.abs((y - box[1]) / box[3] - 0.5) < 0.3,
  );
  if (!taken) return 0.5;
  return back ? 0.8 : 0.2;
}
