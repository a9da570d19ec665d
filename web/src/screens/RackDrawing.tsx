// Rolls and offcuts to scale. A roll lies with its cut end at the left; what is left of it is cloth, the rest an empty dashed line.
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { core } from "../core/core";
import { ScaleBar } from "../draw/ScaleBar";
import type { Offcut, Roll } from "../shop/book";
import { bookWords as say } from "../words/en_book";

/// How many pixels a millimetre is, so that the longest fills the frame, and a scale bar of it.
export function useScale(longest_mm: number, beside_px: number) {
  const frame = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(600);
  useLayoutEffect(() => {
    const element = frame.current;
    if (!element) return;
    const observer = new ResizeObserver(() => setWidth(element.clientWidth || 1));
    observer.observe(element);
    setWidth(element.clientWidth || 1);
    return () => observer.disconnect();
  }, []);
  const scale = Math.max(width - 2 * beside_px - 40, 60) / longest_mm;
  return [frame, scale, <ScaleBar key="bar" scale={scale} />] as const;
}

/// The width of goods as their document says it, for the height of the strip.
function widthOf(goods: Record<string, unknown>): number {
  const said = goods["usable_width"] ?? goods["width"];
  const read = core.readLength(String(said ?? ""), "in");
  return read.ok ? read.length.mm : 0;
}

export function RollStrip({ roll, width, scale }: { roll: Roll; width: Record<string, unknown>; scale: number }) {
  const whole = roll.received_mm * scale;
  const left = Math.max(roll.left_mm * scale, 0);
  const held = Math.min(roll.reserved_mm * scale, left);
  const height = Math.max(widthOf(width) * scale, 14);
  const end = Math.min(height / 2, 13);
  return (
    <svg class="strip" width={Math.max(whole, left) + 2 * end + 4} height={height + 4} aria-hidden="true">
      <g transform="translate(2 2)">
        <path d={`M${left} 0H${whole}V${height}H${left}`} fill="none" stroke="var(--faint)" stroke-dasharray="4 4" />
        {left > 0 && <path d={`M0 0H${left}V${height}H0Z`} fill="var(--goods)" stroke="var(--ink)" stroke-width="1.6" />}
        {held > 0 && <path d={`M0 0H${held}V${height}H0Z`} fill="url(#held)" stroke="var(--ink)" stroke-width="1.2" />}
        {left > 50 && height > 22 && (
          <path d={`M${held + 10} ${height / 2}h26m-7 -5l7 5l-7 5`} fill="none" stroke="var(--ink-2)" stroke-width="1.6" />
        )}
        {left > 0 && (
          <g transform={`translate(${left} ${height / 2})`} fill="none" stroke="var(--ink)" stroke-width="1.6">
            <ellipse rx={end} ry={height / 2} fill="var(--card)" />
            <ellipse rx={end * 0.55} ry={height * 0.28} stroke-width="1.1" />
            <ellipse rx={end * 0.2} ry={height * 0.1} stroke-width="1.1" />
          </g>
        )}
      </g>
      <defs>
        <pattern id="held" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path d="M0 0V8" stroke="var(--sea)" stroke-width="3" />
        </pattern>
      </defs>
    </svg>
  );
}

export function OffcutDrawing({ offcut, scale, named }: { offcut: Offcut; scale: number; named?: boolean }) {
  const box = offcut.box;
  if (!box) return null;
  const pad = 3 / scale;
  return (
    <svg
      class="offcut-drawing"
      width={box[2] * scale + 6}
      height={box[3] * scale + 6}
      viewBox={`${box[0] - pad} ${box[1] - pad} ${box[2] + 2 * pad} ${box[3] + 2 * pad}`}
      role={named ? "img" : undefined}
      aria-label={named ? say.offcut(offcut.id) : undefined}
      aria-hidden={named ? undefined : true}
    >
      <path d={offcut.d} fill="var(--goods)" stroke="var(--ink)" stroke-width="1.6" />
    </svg>
  );
}
