// A drawing made elsewhere: its outlines to look at and to pick from, each becomes a panel of a new job.
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import type { Finding } from "../core/answers";
import { Drawing, type View } from "../draw/Drawing";
import { book, type Outlined } from "../shop/book";
import { Refused } from "../shop/call";
import { go } from "../state/route";
import { asBase64 } from "../parts/base64";
import { Faults, Findings, Form, nobodyAnswers } from "../parts/Form";
import { Pick } from "../parts/Field";
import { Prose } from "../parts/Text";
import { words } from "../words/en";

/// What the machine takes in one request, less what base64 adds.
const largest_bytes = 11_500_000;

export interface OpenDrawing {
  name: string;
  base64: string;
}
export const openDrawing = signal<OpenDrawing | null>(null);
/// Why a file was not taken; shown where it was chosen.
export const drawingRefused = signal("");

export async function takeDrawing(file: File): Promise<void> {
  drawingRefused.value = "";
  if (file.size > largest_bytes) {
    drawingRefused.value = words.drawingTooLarge(file.name, file.size / 1e6, largest_bytes / 1e6);
    return;
  }
  openDrawing.value = { name: file.name, base64: await asBase64(file) };
}

export function FromDrawing({ drawing }: { drawing: OpenDrawing }) {
  const [units, setUnits] = useState("");
  const [gap, setGap] = useState("");
  const [seen, setSeen] = useState<{ count: number; outlines: Outlined[]; box: [number, number, number, number] | null; findings: Finding[] } | null>(null);
  const [refused, setRefused] = useState<Finding[]>([]);
  const [left, setLeft] = useState<Set<number>>(new Set());
  const question = { ...drawing, ...(units ? { units } : {}), ...(gap ? { gap } : {}) };
  useEffect(() => {
    let gone = false;
    book
      .lookAtDrawing(question)
      .then((answer) => {
        if (gone) return;
        setSeen(answer);
        setRefused([]);
        setLeft(new Set());
      })
      .catch((fault) => {
        if (gone) return;
        setSeen(null);
        setRefused(fault instanceof Refused ? fault.findings : [nobodyAnswers]);
      });
    return () => {
      gone = true;
    };
  }, [drawing, units, gap]);

  const outlines = seen?.outlines ?? [];
  const taken = outlines.filter((o) => !left.has(o.number));
  const layers = [...new Set(outlines.map((o) => o.layer))];
  const setTaken = (which: Outlined[], take: boolean) => {
    const now = new Set(left);
    for (const o of which) if (take) now.delete(o.number);
      else now.add(o.number);
    setLeft(now);
  };
  const toggle = (o: Outlined) => setTaken([o], left.has(o.number));
  /// As the core takes them: what lies in an outline that is taken, and is no hole itself, is its opening.
  const isHole = (o: Outlined): boolean => {
    const around = taken.find((t) => t.number === o.inside);
    return around !== undefined && !isHole(around);
  };
  const lines = ({ scale }: View) => (
    <>
      {outlines.map((o) => {
        const on = !left.has(o.number);
        return (
          <path
            key={o.number}
            d={o.d}
            fill={!on ? "none" : isHole(o) ? "var(--ground)" : "var(--sea-wash)"}
            stroke={on ? "var(--ink)" : "var(--ink-2)"}
            stroke-width={on ? 2.4 : 1.4}
            stroke-dasharray={on ? undefined : "3 4"}
          />
        );
      })}
      {outlines.map((o) => (
        <path key={o.number} class="l-touch" d={o.d} stroke-width={20 / scale} onClick={() => toggle(o)} />
      ))}
    </>
  );
  const marks = (view: View) => (
    <g pointer-events="none">
      {seen &&
        outlines.map((o) => {
          const numbers = o.d.match(/-?\d+(?:\.\d+)?/g) ?? [];
          const [x, y] = view.at([Number(numbers[0]), Number(numbers[1])]);
          return (
            <text key={o.number} class="halo name" x={x + 6} y={y - 6} style={{ fontSize: "15px" }}>
              {o.number}
            </text>
          );
        })}
    </g>
  );
  const list = (
    <ul class="list">
      {outlines.map((o) => (
        <li key={o.number}>
          <label class="choice">
            <input type="checkbox" checked={!left.has(o.number)} onChange={() => toggle(o)} />
            <span>
              <b>{o.number}</b> <Prose text={words.outlineSize(o.along.text, o.across.text)} />
              <span class="quiet small" style={{ display: "block" }}>
                <Prose text={outlineSays(o, isHole(o))} />
              </span>
            </span>
          </label>
        </li>
      ))}
    </ul>
  );
  return (
    <main class="bench two" id="content">
      <section class="middle" aria-label={words.fromDrawing}>
        <Drawing
          name={words.drawingNamed(drawing.name)}
          subject={drawing.name + units}
          box={seen?.box ?? null}
          seenFrom={words.asDrawn}
          bow={false}
          lines={lines}
          marks={marks}
          list={list}
          empty={
            seen ? undefined : (
              <div class="side stack">
                <h1 class="lead">{words.drawingNamed(drawing.name)}</h1>
                {refused.length > 0 ? <Faults of={refused} /> : <p class="quiet">{words.readingDrawing}</p>}
              </div>
            )
          }
        />
      </section>
      <aside class="side right wide-stack" tabIndex={0} aria-label={words.fromDrawing}>
        <section class="stack" aria-labelledby="outlines">
          <h2 id="outlines">{words.fromDrawing}</h2>
          <Pick
            label={words.drawnIn}
            value={units}
            all={[["", words.asDrawingSays], ...(["in", "ft", "mm", "cm", "m"] as const).map((u): [string, string] => [u, words.drawnUnits[u]])]}
            onTake={setUnits}
          />
          <details>
            <summary>{words.drawingGap}</summary>
            <label>
              {words.drawingGap}
              <input value={gap} placeholder="1/2 mm" autocomplete="off" onChange={(e) => setGap(e.currentTarget.value.trim())} />
            </label>
            <p class="hint">{words.drawingGapHelp}</p>
          </details>
        </section>
        {seen && (
          <section class="stack" aria-labelledby="taken">
            <h2 id="taken">{words.outlinesTaken(taken.length, seen.count)}</h2>
            <p class="hint">{words.outlinesHelp}</p>
            {layers.length > 1 && (
              <fieldset>
                <legend>{words.layers}</legend>
                <div class="choices">
                  {layers.map((layer) => {
                    const on = outlines.filter((o) => o.layer === layer);
                    return (
                      <label class="choice" key={layer}>
                        <input
                          type="checkbox"
                          checked={on.every((o) => !left.has(o.number))}
                          onChange={(e) => setTaken(on, e.currentTarget.checked)}
                        />
                        <span>
                          {layer || words.noLayer} <span class="quiet">{words.outlines(on.length)}</span>
                        </span>
                      </label>
                    );
                  })}
                </div>
              </fieldset>
            )}
            {list}
            {seen.findings.length > 0 && (
              <div class="list">
                <Findings of={seen.findings} />
              </div>
            )}
            <Form
              does={words.jobOfDrawing}
              strong
              onSend={(typed) =>
                book
                  .jobOfDrawing({ ...question, title: typed.text("title"), outlines: taken.map((o) => o.number) })
                  .then(({ head }) => {
                    openDrawing.value = null;
                    go(String(head.id), "panels");
                  })
              }
            >
              <label>
                {words.jobTitle}
                <input name="title" defaultValue={drawing.name.replace(/\.\w+$/, "")} maxLength={100} autocomplete="off" />
              </label>
            </Form>
          </section>
        )}
        <button onClick={() => (openDrawing.value = null)}>{words.cancel}</button>
      </aside>
    </main>
  );
}

function outlineSays(o: Outlined, hole: boolean): string {
  return [
    hole ? words.becomesOpening(o.inside) : words.becomesPanel,
    ...(o.layer ? [words.onLayer(o.layer)] : []),
    words.cornersOf(o.corners),
    ...(o.departure.mm > 0 ? [words.within(o.departure.text)] : []),
    ...(o.widest_gap.mm > 0 ? [words.gapsClosed(o.widest_gap.text)] : []),
  ].join(", ");
}
