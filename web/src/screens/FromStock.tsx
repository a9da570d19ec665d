// What the stock has for this job: goods to choose, the roll it is held on and cut from, offcuts that would hold its whole set.
import { useState } from "preact/hooks";
import { core } from "../core/core";
import type { Derived, Finding } from "../core/answers";
import { book, type AcceptedLayout, type GoodsRow, type Offcut, type Roll, type StockChoice } from "../shop/book";
import { useAsked } from "../state/asked";
import { connection } from "../state/line";
import { shopAddressOf } from "../state/route";
import { entered, openJob, tell, triedLayout } from "../state/store";
import { Choose, Form, Send } from "../parts/Form";
import { day } from "../parts/dates";
import { Prose } from "../parts/Text";
import { bookWords as say } from "../words/en_book";
import { OffcutDrawing } from "./RackDrawing";
import { long } from "./Stock";

/// Takes goods of the stock into the job, as the stock describes them.
export function GoodsFromStock() {
  const asked = useAsked(() => book.goods(), []);
  const job = openJob.value;
  const all = asked.answer ?? [];
  if (!job || all.length === 0) return null;
  const take = (row: GoodsRow): void => {
    const document = JSON.parse(job.text) as Record<string, unknown>;
    const { kept_layout: _ofOtherGoods, ...rest } = document;
    const read = core.open(JSON.stringify({ ...rest, goods: { ...row.goods, name: row.name } }));
    if (!read.ok) return tell(read.findings[0]?.says ?? "", true);
    const edits = core.between(job.text, read.job);
    if (edits.ok && entered(say.goodsNamed(row.name), job, core.apply(job.text, edits.edits))) triedLayout.value = null;
  };
  return (
    <Form
      does={say.takeGoods}
      onSend={(t) => {
        const row = all.find((g) => g.id === t.whole("goods"));
        if (row) take(row);
        return Promise.resolve();
      }}
    >
      <Choose label={say.fromTheStock} name="goods" value={String(all[0]?.id)} all={all.map((g) => [String(g.id), g.name])} />
    </Form>
  );
}

/// Takes a layout over several lengths into the job; the roll then shows all of them.
function keepLengths(choice: StockChoice): void {
  const job = openJob.value;
  if (!job || !choice.kept_layout) return;
  const document = JSON.parse(job.text) as Record<string, unknown>;
  const read = core.open(JSON.stringify({ ...document, kept_layout: choice.kept_layout }));
  if (!read.ok) return tell(read.findings[0]?.says ?? "", true);
  const edits = core.between(job.text, read.job);
  if (edits.ok && entered(say.keptLengths, job, core.apply(job.text, edits.edits))) triedLayout.value = null;
}

const named = (l: { roll: number; offcut: number }): string => (l.offcut > 0 ? say.offcut(l.offcut) : say.roll(l.roll));

const several = (c: StockChoice): boolean => c.kept_layout !== null;

/// What a set over several lengths is called: of one lot, of several, or with something to buy.
function ofSeveral(c: StockChoice): string {
  if (c.to_buy_mm > 0) return say.rackAndBuy(long(c.to_buy_mm));
  return c.lot.includes(", ") ? say.severalLots(c.lot) : say.severalLengths;
}

/// Cutting is of the layout that the job keeps; asked for once the job is on the shop's machine.
export function FromStock({ now }: { now: Derived }) {
  const job = openJob.value;
  const kept = connection.value === "kept";
  const name = job?.said.goods?.name ?? "";
  const ready = Boolean(job?.said.kept_layout) && !triedLayout.value && now.roll?.layout != null;
  const stock = useAsked(async () => {
    if (!job || !kept) return null;
    const [goods, rolls, layouts] = await Promise.all([book.goods(), book.rolls(), book.layoutsOf(job.id)]);
    const mine = goods.find((g) => g.name === name);
    return { rolls: mine ? rolls.filter((r) => r.goods === mine.id) : [], known: mine !== undefined, layouts };
  }, [job?.id, job?.text, kept, name]);
  if (!job || !stock.answer) return null;
  const { rolls, known, layouts } = stock.answer;
  const stands = layouts.filter((l) => l.taken_back === 0);
  const lengths = now.roll?.layout?.stretches ?? [];
  const buys = lengths.find((s) => s.to_buy);
  return (
    <section class="stack" aria-labelledby="from-stock">
      <h2 id="from-stock">{say.cutFrom}</h2>
      {stands.map((l) => (
        <Cut key={l.id} layout={l} roll={rolls.find((r) => r.id === l.roll)} onDone={stock.again} />
      ))}
      {!known && (
        <p class="quiet">
          {name ? say.notInStock(name) : say.nameGoods} <a href={shopAddressOf("stock")}>{say.toTheStock}</a>
        </p>
      )}
      {known && stands.length === 0 && (
        <>
          {!ready && <p class="quiet">{say.keepToCut}</p>}
          {buys && <p class="quiet">{say.stillToBuy}</p>}
          {ready && lengths.length > 0 && !buys && (
            <Send does={say.cutFromThese(lengths.map((s) => s.name).join("; "))} strong onSend={() => book.cut(job.id, {}, false)} onDone={stock.again} />
          )}
          {(lengths.length === 0 || buys) && rolls.map((r) => (
            <OnRoll
              key={r.id}
              roll={r}
              job={job.id}
              needs_mm={(buys ? buys.used.mm : now.roll?.layout?.used.mm) ?? 0}
              does={buys ? say.cutBoughtFrom : say.cutIt}
              ready={ready}
              onDone={stock.again}
            />
          ))}
          {rolls.length === 0 && (
            <p class="quiet">
              {say.noRolls} <a href={shopAddressOf("stock")}>{say.toTheStock}</a>
            </p>
          )}
          {now.pieces.length > 0 && <Choices job={job.id} ready={ready} onDone={stock.again} />}
        </>
      )}
    </section>
  );
}

function Cut({ layout, roll, onDone }: { layout: AcceptedLayout; roll: Roll | undefined; onDone: () => void }) {
  return (
    <div class="card stack">
      <p class="settled">
        ✓{" "}
        <Prose
          text={
            layout.offcut > 0
              ? say.wasCutFromOffcut(layout.offcut, day(layout.at))
              : say.wasCut(long(layout.used_mm), roll ? say.lot(roll.lot, roll.label) : say.roll(layout.roll), day(layout.at))
          }
        />
        {layout.more.length > 0 && say.andFrom(layout.more.map(named).join(", "))}
      </p>
      <Send does={say.takeBackCut} plain onSend={() => book.uncut(layout.id)} onDone={onDone} />
    </div>
  );
}

function OnRoll({ roll, job, needs_mm, does, ready, onDone }: { roll: Roll; job: string; needs_mm: number; does: string; ready: boolean; onDone: () => void }) {
  return (
    <div class="card stack">
      <p>
        <b>{say.lot(roll.lot, roll.label)}</b>
        <br />
        <Prose text={say.left(long(roll.left_mm))} />
        {roll.reserved_mm > 0 && (
          <>
            , <Prose text={say.reserved(long(roll.reserved_mm))} />
          </>
        )}
      </p>
      <div class="row">
        {roll.left_mm < needs_mm && <p class="quiet small">{say.tooShort}</p>}
        {ready && roll.left_mm >= needs_mm && <Send does={does} strong onSend={() => book.cut(job, { roll: roll.id }, false)} onDone={onDone} />}
        {needs_mm > 0 && roll.left_mm - roll.reserved_mm >= needs_mm && <Send does={say.holdIt(long(needs_mm))} onSend={() => book.reserve(roll.id, Number(job), needs_mm).then(() => tell(say.held))} onDone={onDone} />}
      </div>
    </div>
  );
}

/// Rolls, offcuts and goods to buy held against each other in money, once somebody asks: the set is laid out on each.
function Choices({ job, ready, onDone }: { job: string; ready: boolean; onDone: () => void }) {
  const [found, setFound] = useState<{ choices: StockChoice[]; findings: Finding[]; offcuts: Offcut[] } | null>(null);
  const look = async () => {
    const [best, offcuts] = await Promise.all([book.choices(job), book.offcuts()]);
    setFound({ ...best, offcuts });
  };
  return (
    <>
      <Send does={say.whatIsBest} onSend={look} />
      {found?.choices.length === 0 && <p class="quiet">{say.noneHoldsIt}</p>}
      {found?.findings.map((f) => (
        <p key={f.code} class={`finding ${f.severity}`}>
          <Prose text={`${f.says} ${f.to_do}`} />
        </p>
      ))}
      {found?.choices.map((c, i) => {
        const offcut = found.offcuts.find((o) => o.id === c.offcut);
        return (
          <div class="card stack" key={`${c.from} ${c.roll} ${c.offcut} ${c.more.map(named).join(" ")} ${c.to_buy_mm}`}>
            <p>
              <b>{several(c) ? ofSeveral(c) : c.from === "offcut" ? say.offcut(c.offcut) : c.from === "roll" ? say.lot(c.lot, "") : say.toBuy}</b>
              {i === 0 && <span class="settled"> · {say.best}</span>}
              <br />
              <span class="quiet">
                <Prose text={c.because} />
              </span>
            </p>
            {c.other_lot && <p class="finding look">{say.otherLot}</p>}
            {offcut?.box && <OffcutDrawing offcut={offcut} scale={Math.min(240 / offcut.box[2], 160 / offcut.box[3])} named />}
            {several(c) && <Send does={say.keepThisLayout} onSend={() => Promise.resolve(keepLengths(c))} />}
            {!several(c) && c.from === "offcut" && <Send does={say.cutFromIt} onSend={() => book.cut(job, { offcut: c.offcut }, false)} onDone={onDone} />}
            {!several(c) && c.from === "roll" && ready && <Send does={say.cutIt} onSend={() => book.cut(job, { roll: c.roll }, false)} onDone={onDone} />}
          </div>
        );
      })}
    </>
  );
}
