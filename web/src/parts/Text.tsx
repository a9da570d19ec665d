// Lengths and sentences as a tape shows them: fractions drawn as fractions.
import type { Length, Units } from "../core/answers";
import { core } from "../core/core";
import { derived, units } from "../state/store";

const fraction = /(\d+)[⁄/](\d+)/g;

/// A sentence with its fractions drawn as such.
export function Prose({ text }: { text: string }) {
  const parts: preact.JSX.Element[] = [];
  let from = 0;
  for (const found of text.matchAll(fraction)) {
    if (found.index > from) parts.push(<>{text.slice(from, found.index)}</>);
    parts.push(<span class="frac">{`${found[1]}⁄${found[2]}`}</span>);
    from = found.index + found[0].length;
  }
  // A text of nothing would be written anew each time.
  if (from < text.length) parts.push(<>{text.slice(from)}</>);
  return <>{parts}</>;
}

/// The text of a length in the units that are shown.
export function lengthText(length: Length): string {
  if (units.value === derived.value.units) return length.text;
  return inShownUnits(length.mm);
}
/// Lengths that were printed already, by their units: a screen shows the same ones again and again.
const printed: Record<Units, Map<number, string>> = { in: new Map(), mm: new Map() };
const mostPrinted = 5000;

export function inShownUnits(mm: number): string {
  const known = printed[units.value];
  const there = known.get(mm);
  if (there !== undefined) return there;
  const answer = core.printLengths([mm], units.value);
  const text = answer.ok ? (answer.texts[0] ?? "") : "";
  if (known.size >= mostPrinted) known.clear();
  known.set(mm, text);
  return text;
}

export function Size({ of, unit = true }: { of: Length | null; unit?: boolean }) {
  if (!of) return <>–</>;
  return (
    <>
      <Prose text={lengthText(of)} />
      {unit && ` ${units.value}`}
    </>
  );
}

/// Inside an SVG text.
export function SvgText({ text }: { text: string }) {
  const pieces = text.split(/(\d+⁄\d+)/);
  return (
    <>
      {pieces.map((p) =>
        p.includes("⁄") ? <tspan style={{ fontFeatureSettings: '"frac"' }}>{p}</tspan> : <tspan>{p}</tspan>,
      )}
    </>
  );
}
