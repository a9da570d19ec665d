// From what a finding is about to the place where it is seen to.
import type { Finding, SaidJob, StageName } from "../core/answers";

const stageOfKind: Record<string, StageName> = {
  tie: "measure",
  point: "measure",
  space: "measure",
  reading: "measure",
  curve: "measure",
  panel: "panels",
  edge: "panels",
  corner: "panels",
  opening: "panels",
  stud: "panels",
  applied: "panels",
  joint: "panels",
  goods: "roll",
  piece: "roll",
  layout: "roll",
};

export const stageOf = (f: Finding): StageName | null => stageOfKind[f.subject.kind] ?? null;

/// The reading that a finding about a tie means, by its place in the document.
export function readingOf(f: Finding, job: SaidJob): string | null {
  const found = /\/spaces\/(\d+)\/ties\/(\d+)/.exec(f.where);
  if (!found) return null;
  const line = job.spaces?.[Number(found[1])]?.ties?.[Number(found[2])];
  return line && typeof line !== "string" ? (line.id ?? null) : null;
}

/// "cockpit/A C" is in the space "cockpit".
export const spaceOf = (id: string): string => id.split("/")[0] ?? id;
export const withoutSpace = (id: string): string => id.slice(id.indexOf("/") + 1);

/// A step of an edit's address (RFC 6901).
export const step = (id: string): string => id.replace(/~/g, "~0").replace(/\//g, "~1");
