// Edges as they were given. A slit parts the edge it runs to, and the core then names corners after the opening, "post 1";
// what a person says is of the whole edge, or of the opening.
import type { Panel, PanelEdge } from "../core/answers";

/// The edge as given, or the opening whose slit or rim it is.
export type Part = { edge: string } | { opening: string };

/// Points have no space in their names; corners of a slit are the opening's id and a number.
const ofSlit = (corner: string): boolean => corner.includes(" ");
export const openingAt = (corner: string): string | null => (ofSlit(corner) ? corner.slice(0, corner.lastIndexOf(" ")) : null);

export function partOf(panel: Panel, index: number): Part {
  const names = panel.corners.map((c) => c.at);
  const at = (i: number): string => names[(i + names.length) % names.length] ?? "";
  const own = openingAt(at(index));
  if (own !== null && own === openingAt(at(index + 1))) return { opening: own };
  let from = index;
  let to = index + 1;
  while (ofSlit(at(from)) && index - from < names.length) from--;
  while (ofSlit(at(to)) && to - index < names.length) to++;
  // One that no slit parts is called as the person named it, which may be the other way round.
  return { edge: from === index && to === index + 1 ? (panel.edges[index]?.name ?? "") : `${at(from)} ${at(to)}` };
}

/// The edges as given, each with its parts.
export function edgesGiven(panel: Panel): [string, PanelEdge[]][] {
  const all = new Map<string, PanelEdge[]>();
  panel.edges.forEach((e, i) => {
    const part = partOf(panel, i);
    if ("edge" in part) all.set(part.edge, [...(all.get(part.edge) ?? []), e]);
  });
  return [...all];
}
