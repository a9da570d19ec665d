// What a job asks: drawn as a tape of money, each stretch with how it came about, and the same set in other goods beside it.
import { useId } from "preact/hooks";
import { book, type Cost, type Priced } from "../shop/book";
import { useAsked, type Asked } from "../state/asked";
import { shopAddressOf } from "../state/route";
import { units } from "../state/store";
import { today } from "../parts/dates";
import { Away, Findings } from "../parts/Form";
import { Amount, Lines } from "../parts/Lines";
import { inShownUnits, Prose } from "../parts/Text";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";

interface Props {
  cost: Asked<Cost | null>;
  rush: boolean;
  setRush: (rush: boolean) => void;
  instead: string[];
  setInstead: (goods: string[]) => void;
}

export function PriceOf({ cost, rush, setRush, instead, setInstead }: Props) {
  const first = cost.answer?.priced[0];
  const others = useOtherGoods(first?.goods ?? "");
  const noPrices = cost.refused.some((f) => f.code === "prices-missing");
  return (
    <section class="stack" aria-labelledby="price" aria-busy={!cost.answer && !cost.away}>
      <h1 id="price">{first?.priced ? say.asks(first.total.text) : say.price}</h1>
      <Away asked={cost} />
      {noPrices && (
        <a class="button strong" href={shopAddressOf("prices")}>
          {say.toThePrices}
        </a>
      )}
      {!cost.answer && !cost.away && cost.refused.length === 0 && <p class="quiet">{say.working}</p>}
      <Findings of={cost.answer?.findings ?? []} />
      {first && <MoneyTape priced={first} all={cost.answer?.priced ?? []} />}
      {cost.answer?.priced.slice(1).map((p) => (
        <MoneyTape key={p.goods} priced={p} all={cost.answer?.priced ?? []} named />
      ))}
      {first && (
        <div class="row">
          <label class="choice">
            <input type="checkbox" checked={rush} onChange={(e) => setRush(e.currentTarget.checked)} />
            <span>{say.rush}</span>
          </label>
          {others.map((name) => (
            <label class="choice" key={name}>
              <input
                type="checkbox"
                checked={instead.includes(name)}
                onChange={(e) => setInstead(e.currentTarget.checked ? [...instead, name] : instead.filter((g) => g !== name))}
              />
              <span>{say.alsoIn(name)}</span>
            </label>
          ))}
        </div>
      )}
      {first && (
        <details>
          <summary>{say.everyLine}</summary>
          <Explained priced={first} />
        </details>
      )}
    </section>
  );
}

/// Goods of today's prices that are described well enough to be laid out in.
function useOtherGoods(mine: string): string[] {
  const asked = useAsked(() => book.prices(today()), []);
  if (!asked.answer) return [];
  try {
    const list = JSON.parse(asked.answer.replace(/^\s*\/\/.*$/gm, "")) as { goods?: { name: string; goods?: object }[] };
    return (list.goods ?? []).filter((g) => g.goods && g.name !== mine).map((g) => g.name);
  } catch {
    return [];
  }
}

const tapeHeight = 64;

/// Money to scale: what the shop pays, what it keeps, and the tax on both. All tapes beside each other have one scale.
function MoneyTape({ priced, all, named }: { priced: Priced; all: Priced[]; named?: boolean }) {
  const id = useId();
  const most = Math.max(1, ...all.map((p) => p.total.coins));
  const kept = priced.net.coins - priced.cost.coins;
  const stretches = [
    { name: say.material, money: priced.material, coins: priced.material.coins, fill: "var(--goods)" },
    { name: say.labour, money: priced.labour, coins: priced.labour.coins, fill: "var(--card)" },
    { name: say.travel, money: priced.travel, coins: priced.travel.coins, fill: "var(--goods)" },
    { name: say.keeps, money: null, coins: kept, fill: "var(--sea-wash)" },
    { name: say.tax(priced.tax_percent), money: priced.tax, coins: priced.tax.coins, fill: "url(#taxed)" },
  ].filter((s) => s.coins > 0);
  let at = 0;
  return (
    <figure class="money" aria-labelledby={id}>
      <figcaption id={id}>
        {named && <b>{priced.goods}: </b>}
        <b>{priced.total.text}</b>{" "}
        <span class="quiet">
          <Prose text={say.ofWhich(priced.deposit.text, `${inShownUnits(priced.bought_mm)} ${units.value}`)} />
        </span>
      </figcaption>
      <svg viewBox={`0 0 1000 ${tapeHeight}`} preserveAspectRatio="none" height={tapeHeight} aria-hidden="true">
        <defs>
          <pattern id="taxed" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <path d="M0 0V9" stroke="var(--ink-2)" stroke-width="2" />
          </pattern>
        </defs>
        {stretches.map((s) => {
          const x = (1000 * at) / most;
          const w = (1000 * s.coins) / most;
          at += s.coins;
          return <path key={s.name} d={`M${x} 1h${w}v${tapeHeight - 2}h${-w}z`} fill={s.fill} stroke="var(--ink)" stroke-width="1.4" />;
        })}
      </svg>
      <dl class="money-parts">
        {stretches.map((s) => (
          <div key={s.name}>
            <dt>
              <svg width="16" height="16" aria-hidden="true">
                <path d="M1 1h14v14h-14z" fill={s.fill} stroke="var(--ink)" />
              </svg>{" "}
              {s.name}
            </dt>
            <dd>{s.money?.text ?? say.share(priced.margin_percent, priced.mark_up_percent)}</dd>
          </div>
        ))}
      </dl>
      {!priced.priced && <p class="finding stop">{say.notPriced}</p>}
    </figure>
  );
}

function Explained({ priced }: { priced: Priced }) {
  return (
    <div class="wide-stack">
      <Lines
        first={words.what}
        lines={priced.lines}
        figures={[
          [words.takes, (l) => <Amount amount={l.amount} unit={l.unit} />],
          [say.costs, (l) => l.cost?.text ?? say.noPrice],
        ]}
      />
      <ol class="sums">
        {priced.steps.map((s) => (
          <li key={s}>
            <Prose text={s} />
          </li>
        ))}
      </ol>
      <p class="hint">
        {say.hours(priced.minutes, priced.minutes_sd, priced.guesses)} {say.oldRule(priced.by_old_rule.text)} {say.pricesSince(priced.prices_since)}
      </p>
    </div>
  );
}
