// What a stretch of days came to: for the tax return, and to see whether quotes become orders.
import { useState } from "preact/hooks";
import { book, type Money, type MoneyTotals } from "../shop/book";
import { useAsked } from "../state/asked";
import { units } from "../state/store";
import { Away } from "../parts/Form";
import { dayOf, today } from "../parts/dates";
import { inShownUnits, Prose } from "../parts/Text";
import { bookWords as say } from "../words/en_book";

/// This year to today, as somebody asks who comes here.
const thisYear = (): [string, string] => [`${today().slice(0, 4)}-01-01`, today()];
const lastYear = (): [string, string] => {
  const year = Number(today().slice(0, 4)) - 1;
  return [`${year}-01-01`, `${year}-12-31`];
};
const thisMonth = (): [string, string] => [`${today().slice(0, 7)}-01`, today()];

export function Totals() {
  const [[from, to], setDays] = useState(thisYear);
  const asked = useAsked(() => book.totals(from, to), [from, to]);
  const sums = asked.answer;
  return (
    <main class="sheet wide-stack" id="content">
      <header class="stack">
        <h1 class="lead">{say.totalsOf(dayOf(from), dayOf(to))}</h1>
        <div class="row days">
          <label>
            {say.firstDay}
            <input type="date" value={from} max={to} onChange={(e) => e.currentTarget.value && setDays([e.currentTarget.value, to])} />
          </label>
          <label>
            {say.lastDay}
            <input type="date" value={to} min={from} onChange={(e) => e.currentTarget.value && setDays([from, e.currentTarget.value])} />
          </label>
          <button onClick={() => setDays(thisMonth())}>{say.thisMonth}</button>
          <button onClick={() => setDays(thisYear())}>{say.thisYear}</button>
          <button onClick={() => setDays(lastYear())}>{say.lastYear}</button>
        </div>
        <Away asked={asked} />
      </header>
      {sums && (
        <>
          {sums.money.length === 0 && <p class="quiet">{say.noMoney}</p>}
          {sums.money.map((m) => (
            <MoneyOf key={m.currency} sums={m} />
          ))}
          <section class="stack" aria-labelledby="work">
            <h2 id="work">{say.workAndGoods}</h2>
            <dl class="facts wide">
              {Object.entries(sums.papers).map(([kind, n]) => (
                <Fact key={kind} what={say.papersSent(kind)} is={String(n)} />
              ))}
              {Object.entries(sums.jobs).map(([state, n]) => (
                <Fact key={state} what={say.jobsBegun(say.states[state as keyof typeof say.states] ?? state)} is={String(n)} />
              ))}
              <Fact what={say.goodsCameIn} is={`${inShownUnits(sums.received_mm)} ${units.value}`} />
              <Fact what={say.goodsCut} is={`${inShownUnits(sums.cut_mm)} ${units.value}`} />
              <Fact what={say.hoursWritten} is={say.hoursOf(sums.minutes)} />
            </dl>
          </section>
        </>
      )}
    </main>
  );
}

const Fact = ({ what, is }: { what: string; is: string }) => (
  <>
    <dt>{what}</dt>
    <dd>
      <Prose text={is} />
    </dd>
  </>
);

/// What was quoted, invoiced and paid, to one scale: bars of the same money.
function MoneyOf({ sums }: { sums: MoneyTotals }) {
  const bars: [string, Money, string][] = [
    [say.quotedSum, sums.quoted, "var(--card)"],
    [say.invoicedSum, sums.invoiced, "var(--goods)"],
    [say.paidSum, sums.paid, "var(--sea-wash)"],
  ];
  const most = Math.max(1, ...bars.map(([, m]) => m.coins));
  return (
    <section class="stack" aria-labelledby={`money-${sums.currency}`}>
      <h2 id={`money-${sums.currency}`}>{say.moneyIn(sums.currency)}</h2>
      <dl class="bars">
        {bars.map(([what, money, fill]) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>
              <b>{money.text}</b>
              <svg viewBox="0 0 1000 22" preserveAspectRatio="none" height="22" aria-hidden="true">
                <path d={`M1 1h${Math.max(2, (998 * Math.max(0, money.coins)) / most)}v20H1z`} fill={fill} stroke="var(--ink)" stroke-width="1.4" />
              </svg>
            </dd>
          </div>
        ))}
      </dl>
      <dl class="facts wide">
        <Fact what={say.netSum} is={sums.net.text} />
        <Fact what={say.taxSum} is={sums.tax.text} />
      </dl>
    </section>
  );
}
