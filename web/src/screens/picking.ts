// Points tapped on the drawing for something that is being made: the corners of a new panel, the place of an opening, a joint line.
import { signal } from "@preact/signals";

export interface Picking {
  /// The panel that gets an opening; null: a new panel is being made, or a joint.
  panel: string | null;
  joint?: boolean;
  /// So many points are taken; one more takes the place of the last.
  most: number;
  names: string[];
}
export const picking = signal<Picking | null>(null);

export const pointsIn = (typed: string): string[] => typed.split(/[\s,]+/).filter(Boolean);

/// A point is tapped: taken, or given back when it was.
export function tapPoint(name: string): void {
  const now = picking.value;
  if (!now) return;
  const names = now.names.filter((n) => n && n !== name);
  if (!now.names.includes(name)) names.splice(now.most - 1, names.length, name);
  picking.value = { ...now, names };
}
