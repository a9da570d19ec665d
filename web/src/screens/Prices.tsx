// Prices: a list holds from its day until the next one; one that has been written stays as it is.
import { useState } from "preact/hooks";
import { book } from "../shop/book";
import { useAsked } from "../state/asked";
import { Away } from "../parts/Form";
import { day, dayOf, today } from "../parts/dates";
import { bookWords as say } from "../words/en_book";
import { PriceListForm, readList, type PriceList } from "./PriceListForm";

export function Prices() {
  const [chosen, choose] = useState<string | null>(null);
  const [writing, setWriting] = useState(false);
  const lists = useAsked(() => book.priceLists(), []);
  const all = lists.answer ?? [];
  const holds = all.find((l) => l.since <= today())?.since ?? all[0]?.since ?? null;
  const since = chosen ?? holds;
  const text = useAsked(async () => (since ? readList(await book.prices(since)) : null), [since]);
  const before = all[all.findIndex((l) => l.since === since) + 1]?.since ?? null;
  const was = useAsked(async () => (before ? readList(await book.prices(before)) : null), [before]);
  const done = () => {
    setWriting(false);
    choose(null);
    lists.again();
  };
  const none = lists.answer !== null && all.length === 0;
  return (
    <main class="sheet wide-stack" id="content">
      <header>
        <h1 class="lead">{none ? say.noPricesYet : say.pricesTitle}</h1>
        <p style={{ marginTop: "6px" }}>{say.pricesHelp}</p>
      </header>
      <Away asked={lists} />
      {all.length > 0 && (
        <ol class="dated" aria-label={say.priceLists}>
          {[...all].reverse().map((l) => (
            <li key={l.since}>
              <button aria-pressed={l.since === since && !writing} onClick={() => (choose(l.since), setWriting(false))}>
                <b>{say.fromDay(dayOf(l.since))}</b>
                <span class="small">{l.since === holds ? say.holdNow : l.since > today() ? say.holdLater : say.heldBefore}</span>
              </button>
            </li>
          ))}
          <li>
            <button aria-pressed={writing} onClick={() => setWriting(true)}>
              {say.newPrices}
            </button>
          </li>
        </ol>
      )}
      {(writing || none) && <PriceListForm key={`new ${since}`} from={text.answer} onDone={done} />}
      {!writing && text.answer && <Shown list={text.answer} was={was.answer} written={all.find((l) => l.since === since)?.at ?? 0} />}
    </main>
  );
}

interface Row {
  what: string;
  is: string;
  was: string | null;
}

function rowsOf(list: PriceList, was: PriceList | null): Row[] {
  const rows: Row[] = [];
  const row = (what: string, is: string | number | undefined, before: string | number | undefined, unit: string) => {
    if (is === undefined) return;
    rows.push({ what, is: `${is} ${unit}`.trim(), was: was && String(before ?? "–") !== String(is) ? String(before ?? "–") : null });
  };
  const unit = list.units ?? "in";
  const money = list.currency ?? "";
  for (const g of list.goods ?? []) {
    const old = was?.goods?.find((o) => o.name === g.name);
    row(g.name, g.price, old?.price, `${money} ${say.per} ${g.per} ${unit}`);
    for (const s of g.steps ?? [])
      row(say.fromLength(g.name, `${s.from} ${unit}`), s.price, old?.steps?.find((o) => String(o.from) === String(s.from))?.price, money);
  }
  row(say.priceNames.binding, list.binding?.price, was?.binding?.price, `${money} ${say.per} ${list.binding?.per ?? ""} ${unit}`);
  row(say.priceNames.thread, list.thread?.price, was?.thread?.price, `${money} ${say.aSpoolOf} ${list.thread?.spool ?? ""} ${unit}`);
  row(say.priceNames.tape, list.tape?.price, was?.tape?.price, `${money} ${say.per} ${list.tape?.per ?? ""} ${unit}`);
  row(say.priceNames.snap, list.snap, was?.snap, money);
  for (const e of list.extras ?? []) row(e.name, e.each, was?.extras?.find((o) => o.name === e.name)?.each, `${money} ${say.forEach} ${e.per ?? ""}`);
  row(say.priceNames.labour_per_hour, list.labour_per_hour, was?.labour_per_hour, money);
  row(say.priceNames.travel_per_km, list.travel_per_km, was?.travel_per_km, money);
  row(say.priceNames.margin, list.margin, was?.margin, "%");
  row(say.priceNames.mark_up, list.mark_up, was?.mark_up, "%");
  row(say.priceNames.tax, list.tax, was?.tax, "%");
  row(say.priceNames.deposit, list.deposit, was?.deposit, "%");
  row(say.priceNames.rush, list.rush, was?.rush, "%");
  row(say.priceNames.round_to, list.round_to, was?.round_to, money);
  row(say.priceNames.valid_days, list.valid_days, was?.valid_days, say.days);
  return rows;
}

function Shown({ list, was, written }: { list: PriceList; was: PriceList | null; written: number }) {
  return (
    <section aria-label={say.fromDay(dayOf(list.since ?? ""))}>
      <table class="price-table">
        <thead>
          <tr>
            <th scope="col">{say.whatPrice}</th>
            <th scope="col" class="number">
              {say.price}
            </th>
            {was && (
              <th scope="col" class="number">
                {say.wasBefore}
              </th>
            )}
          </tr>
        </thead>
        <tbody>
          {rowsOf(list, was).map((r) => (
            <tr key={r.what}>
              <td>{r.what}</td>
              <td class="number">{r.is}</td>
              {was && <td class="number quiet was">{r.was ?? ""}</td>}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="hint">{say.writtenDown(day(written))}</p>
    </section>
  );
}
