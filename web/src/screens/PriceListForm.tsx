// A new price list, begun from the one that holds: what is typed here is the document that is kept.
import { useState } from "preact/hooks";
import { book, type GoodsRow } from "../shop/book";
import { useAsked } from "../state/asked";
import { Choose, Form, Input, type Typed } from "../parts/Form";
import { today } from "../parts/dates";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";

type Said = string | number;
export interface PriceList {
  prices: 1;
  since?: string;
  currency?: string;
  units?: "in" | "mm";
  goods?: { name: string; price: Said; per: Said; steps?: { from: Said; price: Said }[]; goods?: Record<string, unknown> }[];
  binding?: { price: Said; per: Said; step?: Said };
  thread?: { price: Said; spool: Said };
  tape?: { price: Said; per: Said };
  snap?: Said;
  stud?: Said;
  screw?: Said;
  adhesive?: Said;
  extras?: { name: string; each: Said; per?: string }[];
  labour_per_hour?: Said;
  travel_per_km?: Said;
  margin?: Said;
  mark_up?: Said;
  tax?: Said;
  deposit?: Said;
  rush?: Said;
  round_to?: Said;
  valid_days?: Said;
  trips?: { visits?: Said; km?: Said; minutes?: Said };
}

/// A list as the book keeps it; notes on lines of their own are allowed there.
export function readList(text: string): PriceList {
  try {
    return JSON.parse(text.replace(/^\s*\/\/.*$/gm, "")) as PriceList;
  } catch {
    return { prices: 1 };
  }
}

const text = (value: Said | undefined): string => (value === undefined ? "" : String(value));
/// Numbers are written as numbers, everything else as it was typed; nothing is left out.
const said = (typed: string): Said | undefined => (typed === "" ? undefined : typed);
const number = (typed: string): Said | undefined => (/^\d+$/.test(typed) ? Number(typed) : said(typed));

function without<T extends object>(group: T): T | undefined {
  const entries = Object.entries(group).filter(([, v]) => v !== undefined);
  return entries.length > 0 ? (Object.fromEntries(entries) as T) : undefined;
}

interface GoodsLine {
  key: number;
  name: string;
  price: string;
  per: string;
  from: string;
  stepPrice: string;
}

const linesOf = (list: PriceList): GoodsLine[] =>
  (list.goods ?? []).map((g, key) => ({
    key,
    name: g.name,
    price: text(g.price),
    per: text(g.per),
    from: text(g.steps?.[0]?.from),
    stepPrice: text(g.steps?.[0]?.price),
  }));

/// The document of what is typed, beginning from `from`, so that what this form does not show stays as it was.
function documentOf(t: Typed, from: PriceList, lines: GoodsLine[], kept: GoodsRow[]): PriceList {
  const rule = t.text("rule") === "mark_up" ? "mark_up" : "margin";
  const goods = lines.map((line) => {
    const name = t.text(`goods ${line.key}`);
    const before = from.goods?.find((g) => g.name === name);
    const described = kept.find((g) => g.name === name)?.goods ?? before?.goods;
    const step = t.text(`from ${line.key}`);
    const more = (before?.steps ?? []).slice(1);
    return {
      name,
      price: t.text(`price ${line.key}`),
      per: number(t.text(`per ${line.key}`)) ?? "",
      ...(step ? { steps: [{ from: number(step) ?? "", price: t.text(`step ${line.key}`) }, ...more] } : {}),
      ...(described ? { goods: described } : {}),
    };
  });
  const bought = (name: "binding" | "thread" | "tape", per: string) => {
    const price = t.text(name);
    return price ? { ...from[name], price, [per]: number(t.text(`${name} ${per}`)) ?? "" } : undefined;
  };
  const { margin: _margin, mark_up: _markUp, ...rest } = from;
  const all = {
    ...rest,
    prices: 1,
    since: t.text("since"),
    currency: t.text("currency"),
    units: t.text("units"),
    goods,
    binding: bought("binding", "per"),
    thread: bought("thread", "spool"),
    tape: bought("tape", "per"),
    snap: said(t.text("snap")),
    stud: said(t.text("stud")),
    screw: said(t.text("screw")),
    adhesive: said(t.text("adhesive")),
    labour_per_hour: said(t.text("labour_per_hour")),
    travel_per_km: said(t.text("travel_per_km")),
    [rule]: said(t.text("uplift")),
    tax: said(t.text("tax")),
    deposit: said(t.text("deposit")),
    rush: said(t.text("rush")),
    round_to: said(t.text("round_to")),
    valid_days: number(t.text("valid_days")),
    trips: without({ ...from.trips, visits: number(t.text("visits")), km: number(t.text("km")), minutes: number(t.text("minutes")) }),
  };
  return (without(all) ?? { prices: 1 }) as PriceList;
}

export function PriceListForm({ from, onDone }: { from: PriceList | null; onDone: () => void }) {
  const begun = from ?? { prices: 1 };
  const [lines, setLines] = useState<GoodsLine[]>(() => (begun.goods?.length ? linesOf(begun) : []));
  const goods = useAsked(() => book.goods(), []);
  const kept = goods.answer ?? [];
  const more = (name: string) =>
    setLines([...lines, { key: Math.max(-1, ...lines.map((l) => l.key)) + 1, name, price: "", per: begun.units === "mm" ? "1000" : "36", from: "", stepPrice: "" }]);
  const unpriced = kept.filter((g) => !lines.some((l) => l.name === g.name));
  const names = say.priceNames;
  return (
    <Form
      does={say.keepPrices}
      strong
      keep
      done={say.pricesKept}
      onDone={onDone}
      onSend={(t) => book.addPrices(JSON.stringify(documentOf(t, begun, lines, kept), null, 2))}
    >
      <h2>{say.newPrices}</h2>
      <div class="fields three">
        <Input label={say.holdsFrom} name="since" type="date" required value={today()} />
        <Input label={say.currency} name="currency" required value={text(begun.currency) || "USD"} help={say.currencyHelp} />
        <Choose label={say.lengthsIn} name="units" value={begun.units ?? "in"} all={[["in", words.units["in"] ?? ""], ["mm", words.units["mm"] ?? ""]]} />
      </div>
      <fieldset class="group">
        <legend>{words.goods}</legend>
        {lines.map((l) => (
          <div class="fields five" key={l.key}>
            <Input label={words.goodsName} name={`goods ${l.key}`} required value={l.name} />
            <Input label={say.price} name={`price ${l.key}`} required mode="decimal" value={l.price} example="38.00" />
            <Input label={say.perLength} name={`per ${l.key}`} required mode="decimal" value={l.per} />
            <Input label={say.fromOn} name={`from ${l.key}`} mode="decimal" value={l.from} />
            <Input label={say.stepPrice} name={`step ${l.key}`} mode="decimal" value={l.stepPrice} />
            <button type="button" class="plain" onClick={() => setLines(lines.filter((other) => other.key !== l.key))} aria-label={`${words.remove}: ${l.name}`}>
              {words.remove}
            </button>
          </div>
        ))}
        <div class="row">
          {unpriced.map((g) => (
            <button type="button" key={g.id} onClick={() => more(g.name)}>
              {say.priceFor(g.name)}
            </button>
          ))}
          <button type="button" onClick={() => more("")}>
            {say.otherGoods}
          </button>
        </div>
        <p class="hint">{say.goodsNameHelp}</p>
      </fieldset>
      <fieldset class="group">
        <legend>{say.sewnOn}</legend>
        <div class="fields six">
          <Input label={names.binding} name="binding" mode="decimal" value={text(begun.binding?.price)} example="1.10" />
          <Input label={say.perLength} name="binding per" mode="decimal" value={text(begun.binding?.per) || "36"} />
          <Input label={names.thread} name="thread" mode="decimal" value={text(begun.thread?.price)} example="14.00" />
          <Input label={say.onASpool} name="thread spool" mode="decimal" value={text(begun.thread?.spool) || "36000"} />
          <Input label={names.tape} name="tape" mode="decimal" value={text(begun.tape?.price)} example="9.00" />
          <Input label={say.onARoll} name="tape per" mode="decimal" value={text(begun.tape?.per) || "1800"} />
        </div>
        <div class="fields three">
          <Input label={names.snap} name="snap" mode="decimal" value={text(begun.snap)} example="0.45" />
          <Input label={names.stud} name="stud" mode="decimal" value={text(begun.stud)} example="0.60" />
          <Input label={names.screw} name="screw" mode="decimal" value={text(begun.screw)} example="0.08" />
          <Input label={names.adhesive} name="adhesive" mode="decimal" value={text(begun.adhesive)} example="12.00" />
        </div>
      </fieldset>
      <fieldset class="group">
        <legend>{say.workAndRoad}</legend>
        <div class="fields three">
          <Input label={names.labour_per_hour} name="labour_per_hour" required mode="decimal" value={text(begun.labour_per_hour)} example="65.00" />
          <Input label={names.travel_per_km} name="travel_per_km" mode="decimal" value={text(begun.travel_per_km)} example="0.70" />
          <Input label={say.visits} name="visits" mode="numeric" value={text(begun.trips?.visits)} example="2" />
          <Input label={say.kmThere} name="km" mode="decimal" value={text(begun.trips?.km)} example="40" />
          <Input label={say.minutesThere} name="minutes" mode="numeric" value={text(begun.trips?.minutes)} example="45" />
        </div>
      </fieldset>
      <fieldset class="group">
        <legend>{say.whatIsKept}</legend>
        <div class="fields three">
          <Choose label={say.rule} name="rule" value={begun.mark_up !== undefined ? "mark_up" : "margin"} all={[["margin", say.marginIs], ["mark_up", say.markUpIs]]} />
          <Input label={say.uplift} name="uplift" mode="decimal" value={text(begun.margin ?? begun.mark_up)} example="35" help={say.upliftHelp} />
          <Input label={say.percent(names.tax)} name="tax" mode="decimal" value={text(begun.tax)} example="8.25" />
          <Input label={say.percent(names.deposit)} name="deposit" mode="decimal" value={text(begun.deposit)} example="50" />
          <Input label={say.percent(names.rush)} name="rush" mode="decimal" value={text(begun.rush)} example="20" />
          <Input label={names.round_to} name="round_to" mode="decimal" value={text(begun.round_to)} example="5.00" />
          <Input label={say.inDays(names.valid_days)} name="valid_days" mode="numeric" value={text(begun.valid_days)} example="30" />
        </div>
      </fieldset>
    </Form>
  );
}
