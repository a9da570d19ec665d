// Cost: what the job takes and asks, each with how it came about; papers sent, money that came, and how far the work has come.
import { useState } from "preact/hooks";
import { book } from "../shop/book";
import { shop } from "../shop/shop";
import { useAsked } from "../state/asked";
import { connection } from "../state/line";
import { addressOf } from "../state/route";
import { derived, openJob } from "../state/store";
import { Away } from "../parts/Form";
import { Amount, Lines } from "../parts/Lines";
import { Needs } from "../parts/Needs";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { State } from "./About";
import { AccountOf, PapersOf } from "./Money";
import { PriceOf } from "./Price";

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
          <section>
            <h2>{words.takeoff}</h2>
            <Lines
              first={words.what}
              lines={takeoff.materials}
              figures={[
                [words.takes, (l) => <Amount amount={l.amount} unit={l.unit} />],
                [words.toBuy, (l) => l.ordered || <Amount amount={l.to_buy} unit={l.unit} />],
              ]}
            />
          </section>
          <section>
            <h2>{words.work}</h2>
            <Lines first={words.what} lines={takeoff.work} figures={[[words.takes, (l) => <Amount amount={l.amount} unit={l.unit} />]]} />
          </section>
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
