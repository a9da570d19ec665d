// Cost: what the job takes and asks, each with how it came about; papers sent, money that came, and how far the work has come.
import { useState } from "preact/hooks";
import type { QuantityLine } from "../core/answers";
import { book } from "../shop/book";
import { shop } from "../shop/shop";
import { useAsked } from "../state/asked";
import { connection } from "../state/line";
import { addressOf } from "../state/route";
import { derived, openJob, units } from "../state/store";
import { inShownUnits, Prose } from "../parts/Text";
import { Away } from "../parts/Form";
import { Needs } from "../parts/Needs";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { State } from "./About";
import { AccountOf, PapersOf } from "./Money";
import { PriceOf } from "./Price";

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
                  {l.ordered || <Amount amount={l.to_buy} unit={l.unit} />}
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/// What the shop's machine knows of the job's money; asked for once the job is kept there.
function Books({ id, text }: { id: string; text: string }) {
  const kept = connection.value === "kept";
  const [rush, setRush] = useState(false);
  const [instead, setInstead] = useState<string[]>([]);
  const cost = useAsked(async () => (kept ? book.cost(id, rush, instead) : null), [id, text, kept, rush, instead.join("\n")]);
  const money = useAsked(async () => {
    const [papers, account, kept] = await Promise.all([book.papers(id), book.account(id), shop.open(id)]);
    return { papers, account, head: kept.head };
  }, [id, text]);
  const changed = () => money.again();
  return (
    <>
      <PriceOf cost={cost} rush={rush} setRush={setRush} instead={instead} setInstead={setInstead} />
      <Away asked={money} />
      {money.answer && (
        <>
          <PapersOf id={id} papers={money.answer.papers} mayQuote={cost.answer?.priced[0]?.priced ?? false} rush={rush} instead={instead} onChanged={changed} />
          <AccountOf id={id} account={money.answer.account} onChanged={changed} />
          <State head={money.answer.head} onChanged={changed} />
        </>
      )}
    </>
  );
}

export function Cost() {
  const takeoff = derived.value.takeoff;
  const job = openJob.value;
  if (!job) return null;
  return (
    <main class="sheet wide-stack" id="content">
      {takeoff ? (
        <>
          {job.said.kept_layout ? <Books id={job.id} text={job.text} /> : <p class="quiet">{say.keepFirst}</p>}
          <Lines title={words.takeoff} lines={takeoff.materials} buy />
          <Lines title={words.work} lines={takeoff.work} buy={false} />
        </>
      ) : (
        <section class="stack">
          <h1>{words.noTakeoff}</h1>
          <p>{words.noTakeoffHelp}</p>
          {derived.value.findings.some((f) => f.severity === "stop") && <Needs only={(f) => f.severity === "stop"} />}
          <a class="button strong" href={addressOf(job.id, "roll")}>
            {words.toTheRoll}
          </a>
        </section>
      )}
    </main>
  );
}
