// Cost: what the job takes, each quantity with how it came about.
import type { QuantityLine } from "../core/answers";
import { addressOf } from "../state/route";
import { derived, openJob, units } from "../state/store";
import { inShownUnits, Prose } from "../parts/Text";
import { Needs } from "../parts/Needs";
import { words } from "../words/en";

function Amount({ amount, unit }: { amount: number; unit: string }) {
  if (amount === 0) return <>–</>;
  if (unit === "mm") return <Prose text={`${inShownUnits(amount)} ${units.value}`} />;
  if (unit === "") return <>{Math.round(amount)}</>;
  return (
    <>
      {Number(amount.toPrecision(4))} {unit}
    </>
  );
}

function Lines({ title, lines, buy }: { title: string; lines: QuantityLine[]; buy: boolean }) {
  return (
    <section>
      <h2>{title}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.what}</th>
            <th scope="col" class="number">
              {words.takes}
            </th>
            {buy && (
              <th scope="col" class="number">
                {words.toBuy}
              </th>
            )}
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
              <td class="number">
                <Amount amount={l.amount} unit={l.unit} />
              </td>
              {buy && (
                <td class="number">
                  <Amount amount={l.to_buy} unit={l.unit} />
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

export function Cost() {
  const takeoff = derived.value.takeoff;
  return (
    <main class="sheet wide-stack" id="content">
      {takeoff ? (
        <>
          <Lines title={words.takeoff} lines={takeoff.materials} buy />
          <Lines title={words.work} lines={takeoff.work} buy={false} />
        </>
      ) : (
        <section class="stack">
          <h1>{words.noTakeoff}</h1>
          <p>{words.noTakeoffHelp}</p>
          {derived.value.findings.some((f) => f.severity === "stop") && <Needs only={(f) => f.severity === "stop"} />}
          {openJob.value && (
            <a class="button strong" href={addressOf(openJob.value.id, "roll")}>
              {words.toTheRoll}
            </a>
          )}
        </section>
      )}
    </main>
  );
}
