// A line of what a job takes: what it is with how it came about, then its figures.
import { inShownUnits, Prose } from "./Text";
import { units } from "../state/store";

export function Amount({ amount, unit }: { amount: number; unit: string }) {
  if (amount === 0) return <>–</>;
  if (unit === "mm") return <Prose text={`${inShownUnits(amount)} ${units.value}`} />;
  if (unit === "") return <>{Math.round(amount)}</>;
  return (
    <>
      {Number(amount.toPrecision(4))} {unit}
    </>
  );
}

interface Line {
  what: string;
  because: string;
}
/// A table of such lines; each figure has its heading and says itself of a line.
export function Lines<L extends Line>({ first, lines, figures }: { first: string; lines: L[]; figures: [string, (line: L) => preact.ComponentChildren][] }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{first}</th>
          {figures.map(([heading]) => (
            <th scope="col" class="number" key={heading}>
              {heading}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {lines.map((l) => (
          <tr key={l.what + l.because}>
            <td>
              <b>{l.what}</b>
              <br />
              <span class="quiet">
                <Prose text={l.because} />
              </span>
            </td>
            {figures.map(([heading, figure]) => (
              <td class="number" key={heading}>
                {figure(l)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
