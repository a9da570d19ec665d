// What the shop has settled for itself: how it is named, what a new job begins with, and how true its printer draws.
import { book, type PaperSettings, type Settings as Kept, type ShopSettings } from "../shop/book";
import { useAsked } from "../state/asked";
import { shopAddressOf } from "../state/route";
import { today, dayOf } from "../parts/dates";
import { Away, Choose, Form, Input } from "../parts/Form";
import { core } from "../core/core";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { readList, type PriceList } from "./PriceListForm";

export function Settings() {
  const kept = useAsked(() => book.settings(), []);
  const prices = useAsked(() => book.prices(today()).then(readList), []);
  return (
    <main class="sheet wide-stack" id="content">
      <h1 class="lead">{say.settingsTitle}</h1>
      <Away asked={kept} />
      {kept.answer && (
        <div class="door">
          <ShopWords shop={kept.answer.shop ?? {}} onDone={kept.again} />
          <div class="wide-stack">
            <Printer settings={kept.answer} onDone={kept.again} />
            <NewJobs paper={kept.answer.paper ?? {}} onDone={kept.again} />
            <Rates list={prices.answer} />
          </div>
        </div>
      )}
    </main>
  );
}

function ShopWords({ shop, onDone }: { shop: ShopSettings; onDone: () => void }) {
  return (
    <section class="card roomy" aria-labelledby="shop-words">
      <Form
        does={say.keepThese}
        strong
        keep
        done={say.settingsKept}
        onDone={onDone}
        onSend={(t) => book.writeSetting("shop", { ...shop, name: t.text("name"), address: t.text("address"), terms: t.text("terms") })}
      >
        <h2 id="shop-words">{say.onEveryPaper}</h2>
        <Input label={say.shopName} name="name" value={shop.name ?? ""} required />
        <Input label={say.address} name="address" value={shop.address ?? ""} />
        <Input label={say.terms} name="terms" value={shop.terms ?? ""} example={say.termsExample} />
      </Form>
    </section>
  );
}

/// The 200 mm rule as the printer drew it, to compare with what the tape says.
function Printer({ settings, onDone }: { settings: Kept; onDone: () => void }) {
  const paper: PaperSettings = settings.paper ?? {};
  const measured = paper.rule_measured ?? "";
  return (
    <section class="card roomy" aria-labelledby="printer">
      <Form
        does={say.keepThese}
        keep
        done={say.settingsKept}
        onDone={onDone}
        onSend={(t) => {
          const typed = t.text("rule");
          const value = /[a-z"']$/i.test(typed) || typed === "" ? typed : `${typed} mm`;
          if (value !== "" && !core.readLength(value, "mm").ok) return undefined;
          const { rule_measured: _before, ...rest } = paper;
          return book.writeSetting("paper", value === "" ? rest : { ...rest, rule_measured: value });
        }}
      >
        <h2 id="printer">{say.printer}</h2>
        <svg viewBox="0 0 420 46" class="rule" role="img" aria-label={say.ruleDrawn}>
          <path d="M10 8V30H410V8" fill="none" stroke="var(--ink)" stroke-width="2" />
          <path d={Array.from({ length: 19 }, (_, i) => `M${30 + 20 * i} ${i % 5 === 4 ? 14 : 21}V30`).join("")} stroke="var(--ink)" stroke-width="1.2" />
          <text x="210" y="44" text-anchor="middle" font-size="14">
            200 mm
          </text>
        </svg>
        <p>{say.printerHelp}</p>
        <Input label={say.ruleMeasures} name="rule" mode="decimal" value={measured.replace(/ mm$/, "")} example="199.4" help={say.ruleHelp} />
      </Form>
    </section>
  );
}

function NewJobs({ paper, onDone }: { paper: PaperSettings; onDone: () => void }) {
  return (
    <section class="card roomy" aria-labelledby="new-jobs">
      <Form
        does={say.keepThese}
        keep
        done={say.settingsKept}
        onDone={onDone}
        onSend={(t) => {
          const { mark_on: _side, units: _units, ...rest } = paper;
          const side = t.text("mark_on");
          return book.writeSetting("paper", { ...rest, ...(side ? { mark_on: side } : {}), units: t.text("units") });
        }}
      >
        <h2 id="new-jobs">{say.newJobs}</h2>
        <Choose
          label={words.markOn}
          name="mark_on"
          value={paper.mark_on ?? ""}
          all={[["", say.askEachTime], ["back", words.markSides["back"] ?? ""], ["face", words.markSides["face"] ?? ""]]}
        />
        <Choose label={words.question3} name="units" value={paper.units ?? "in"} all={[["in", words.units["in"] ?? ""], ["mm", words.units["mm"] ?? ""]]} />
      </Form>
    </section>
  );
}

/// Rates are dated, so they stand in the price list; here is what holds today.
function Rates({ list }: { list: PriceList | null }) {
  const rows: [string, string][] = list
    ? [
        [say.priceNames.labour_per_hour, `${list.labour_per_hour ?? "–"} ${list.currency ?? ""}`],
        list.mark_up !== undefined ? [say.priceNames.mark_up, `${list.mark_up} %`] : [say.priceNames.margin, `${list.margin ?? "–"} %`],
        [say.priceNames.tax, `${list.tax ?? "–"} %`],
      ]
    : [];
  return (
    <section class="stack" aria-labelledby="rates">
      <h2 id="rates">{say.ratesToday}</h2>
      {list && (
        <dl class="facts">
          {rows.map(([name, value]) => (
            <>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </>
          ))}
        </dl>
      )}
      <p class="hint">
        {list?.since ? say.ratesSince(dayOf(list.since)) : say.noRates} <a href={shopAddressOf("prices")}>{say.toThePrices}</a>
      </p>
    </section>
  );
}
