// A bar of a whole number of inches or millimetres, drawn to the scale of the drawing.
import { words } from "../words/en";
import { core } from "../core/core";
import type { Units } from "../core/answers";
import { units } from "../state/store";

const steps: Record<Units, number[]> = {
  in: [0.5, 1, 2, 3, 6, 12, 24, 48, 96, 192, 480, 960],
  mm: [10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000],
};
const unit_mm = new Map<Units, number>();

/// How long one unit is, as the core reads it.
function lengthOfOne(unit: Units): number {
  let mm = unit_mm.get(unit);
  if (mm === undefined) {
    const read = core.readLength("1", unit);
    mm = read.ok ? read.length.mm : 1;
    unit_mm.set(unit, mm);
  }
  return mm;
}

export function ScaleBar({ scale }: { scale: number }) {
  const unit = units.value;
  const one = lengthOfOne(unit) * scale;
  const count = steps[unit].find((n) => n * one >= 76) ?? steps[unit].at(-1) ?? 1;
  const px = count * one;
  return (
    <svg width={px + 60} height="34" viewBox={`0 0 ${px + 60} 34`} role="img" aria-label={words.scaleBar(`${count} ${unit}`)}>
      <path d={`M1 2V12H${px}V2M${px / 2} 7V12`} fill="none" stroke="var(--ink)" stroke-width="1.6" />
      <text x="0" y="29" font-size="14">
        0
      </text>
      <text x={px} y="29" font-size="14" text-anchor="middle">
        {count} {unit}
      </text>
    </svg>
  );
}
