// The tape book: every line as it was typed, how far it is from what the others say, and what to do about it.
import { useEffect, useRef } from "preact/hooks";
import { core } from "../core/core";
import type { ReadingPart, Space, SpaceReading, Suspect, Units } from "../core/answers";
import { act, chosen, choose, units } from "../state/store";
import { step } from "../state/places";
import { Field } from "../parts/Field";
import { inShownUnits, Prose } from "../parts/Text";
import { words } from "../words/en";
import { focusLine, typed } from "./TypeReading";

/// The bar is full at this many times its standard deviation.
const fullBar = 8;
const widest = 64;

const worst = (parts: ReadingPart[]): ReadingPart | undefined =>
  parts.reduce<ReadingPart | undefined>((a, b) => (!a || Math.abs(b.w) > Math.abs(a.w) ? b : a), undefined);

const checked = (parts: ReadingPart[]): boolean => parts.every((p) => p.smallest_slip_mm !== null);

function offWords(part: ReadingPart): string {
  if (part.off === "right on") return words.rightOn;
  const way = part.off_mm > 0 ? "long" : "short";
  return `reads ${inShownUnits(Math.abs(part.off_mm))} ${units.value} ${way} against the others`;
}

export function Readings({ space }: { space: Space }) {
  const suspects = new Map((space.survey?.suspects ?? []).map((s) => [s.id, s]));
  if (space.readings.length === 0) return <p class="quiet">{words.noReadings}</p>;
  return (
    <section aria-label={words.readings(space.readings.length)}>
      <ul class="readings">
        {space.readings.map((r) => (
          <Row key={r.id} reading={r} space={space.id} taped={space.units} suspect={suspects.get(r.id)} />
        ))}
      </ul>
    </section>
  );
}

/// `space`, `taped`: where it stands and the units of that tape book. Drawn anew only when one of these is another.
function Row({ reading, space, taped, suspect }: { reading: SpaceReading; space: string; taped: Units; suspect: Suspect | undefined }) {
  const row = useRef<HTMLLIElement>(null);
  const here = chosen.value?.kind === "reading" && chosen.value.id === reading.id;
  useEffect(() => {
    if (here) row.current?.scrollIntoView({ block: "nearest" });
  }, [here]);
  const part = worst(reading.parts);
  const sure = checked(reading.parts);
  const width = part ? Math.min(widest, Math.max(2, (Math.abs(part.w) / fullBar) * widest)) : 0;
  return (
    <li ref={row}>
      <button
        class={`reading${suspect ? " suspect" : ""}`}
        aria-pressed={here}
        onClick={() => (here ? (chosen.value = null) : choose("reading", reading.id))}
      >
        <span class="typed">
          <Prose text={reading.line} />
        </span>
        {part && sure && <span class="bar" style={{ width: `${width}px` }} role="img" aria-label={offWords(part)} />}
        {part && !sure && <span class="unchecked">{words.unchecked}</span>}
      </button>
      {(here || suspect) && <AtReading reading={reading} space={space} taped={taped} suspect={suspect} part={part} open={here} />}
    </li>
  );
}

function AtReading(props: {
  reading: SpaceReading;
  space: string;
  taped: Units;
  suspect: Suspect | undefined;
  part: ReadingPart | undefined;
  open: boolean;
}) {
  const { reading, space, taped, suspect, part, open } = props;
  const target = `/spaces/${step(space)}/ties/${step(reading.id)}`;
  const change = (line: string) =>
    act(words.readingChanged(line), [{ target, field: "line", old: reading.line, new: line }]);
  const wrong = (line: string): string => {
    const read = core.readReading(line, taped);
    return read.ok ? "" : `${read.findings[0]?.says ?? ""} ${read.findings[0]?.to_do ?? ""}`;
  };
  const tapeAgain = () => {
    typed.value = `${part?.points.join(" ") ?? ""} `;
    focusLine.value += 1;
  };
  return (
    <div class={`at-reading stack${suspect ? " suspect" : ""}`}>
      {suspect ? (
        <>
          <p>
            Reads{" "}
            <b>
              <Prose text={`${inShownUnits(Math.abs(suspect.slip_mm))} ${units.value}`} />
            </b>{" "}
            {suspect.slip_mm > 0 ? "long" : "short"} against the others. <Prose text={suspect.guess} />
          </p>
          {suspect.alike.length > 0 && (
            <p class="quiet">
              {words.orOneOf} <Prose text={suspect.alike.map((a) => a.line).join("; ")} />.
            </p>
          )}
          <div class="row">
            {suspect.proposed && (
              <button class="signal" onClick={() => change(suspect.proposed)}>
                <Prose text={words.useProposed(suspect.proposed)} />
              </button>
            )}
            <button onClick={tapeAgain}>{words.tapeAgain}</button>
          </div>
        </>
      ) : (
        part && (
          <p>
            <Prose text={`${offWords(part)}.`} />{" "}
            {part.smallest_slip_mm === null ? (
              words.unchecked + "."
            ) : (
              <Prose text={words.slipShows(`${inShownUnits(part.smallest_slip_mm)} ${units.value}`)} />
            )}
          </p>
        )
      )}
      {open && (
        <>
          <Field label={words.theReading} value={reading.line} wrong={wrong} onTake={change} />
          <div class="row">
            {!suspect && reading.kind === "tie" && <button onClick={tapeAgain}>{words.tapeAgain}</button>}
            <button
              onClick={() => {
                if (act(words.readingRemoved(reading.line), [{ target, field: "", old: { id: reading.id, line: reading.line } }]))
                  chosen.value = null;
              }}
            >
              {words.remove}
            </button>
          </div>
        </>
      )}
    </div>
  );
}
