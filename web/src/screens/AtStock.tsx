// What is chosen in the stock, explained and changed beside it.
import { book, type GoodsRow, type Movement, type Offcut, type Roll } from "../shop/book";
import { addressOf } from "../state/route";
import { useAsked } from "../state/asked";
import { units } from "../state/store";
import { Away, Choose, Form, Input, LengthInput, Send, withUnit, type Typed } from "../parts/Form";
import { day } from "../parts/dates";
import { inShownUnits, Prose } from "../parts/Text";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { OffcutDrawing } from "./RackDrawing";
import { long } from "./Stock";

export function NewRoll({ goods, onDone }: { goods: GoodsRow[]; onDone: () => void }) {
  return (
    <section aria-labelledby="new-roll" class="card">
      <Form
        does={say.takeIntoStock}
        strong
        done={say.rollTaken}
        onDone={onDone}
        onSend={(t) => {
          const mm = t.mm("length");
          return mm === null ? undefined : book.addRoll(t.whole("goods"), t.text("lot"), t.text("label"), mm);
        }}
      >
        <h2 id="new-roll">{say.rollCameIn}</h2>
        <Choose label={words.goods} name="goods" all={goods.map((g) => [String(g.id), g.name])} value={String(goods[0]?.id ?? "")} />
        <Input label={say.lotName} name="lot" required example="0417-B" help={say.lotHelp} />
        <Input label={say.label} name="label" example={say.labelExample} />
        <LengthInput label={say.lengthOfIt} name="length" required example={units.value === "in" ? "1080" : "27400"} />
      </Form>
    </section>
  );
}

const goodsLengths = ["width", "usable_width", "gap", "step", "least_order", "thickness"] as const;

/// The group "goods" of a job, each length with its unit, so that a job in other units reads the same.
function goodsGroup(t: Typed, before: Record<string, unknown>): Record<string, unknown> | null {
  const group: Record<string, unknown> = { ...before, name: t.text("name") };
  for (const field of goodsLengths) {
    const typed = t.text(field);
    if (typed === "") {
      delete group[field];
      continue;
    }
    if (t.mm(field) === null) return null;
    group[field] = typed === before[field] ? typed : withUnit(typed);
  }
  if (t.text("direction") === "one way") delete group.direction;
  else group.direction = t.text("direction");
  return group;
}

function GoodsInputs({ row }: { row?: GoodsRow }) {
  const was = (field: string): string => String(row?.goods[field] ?? "");
  const inches = units.value === "in";
  return (
    <>
      <Input label={words.goodsName} name="name" required value={row?.name ?? ""} example={say.goodsExample} />
      <LengthInput label={words.goodsWidth} name="width" required value={was("width")} example={inches ? "72" : "1830"} />
      <LengthInput label={words.goodsUsable} name="usable_width" mayBeEmpty value={was("usable_width")} help={words.goodsUsableHelp} />
      <LengthInput label={words.goodsGap} name="gap" mayBeEmpty value={was("gap")} example={inches ? "1/4" : "6"} />
      <LengthInput label={words.goodsStep} name="step" mayBeEmpty value={was("step")} example={inches ? "36" : "1000"} />
      <LengthInput label={words.goodsLeast} name="least_order" mayBeEmpty value={was("least_order")} help={words.goodsLeastHelp} example={inches ? "72" : "2000"} />
      <LengthInput label={words.goodsThickness} name="thickness" mayBeEmpty value={was("thickness")} example={inches ? "3/16" : "5"} />
      <Choose label={say.mayLie} name="direction" all={Object.entries(say.directions)} value={was("direction") || "one way"} />
      <Input label={say.notes} name="notes" value={row?.notes ?? ""} help={say.goodsNotesHelp} />
    </>
  );
}

export function NewGoods({ onDone }: { onDone: () => void }) {
  return (
    <section class="card">
      <Form
        does={say.keepGoods}
        strong
        done={say.goodsKept}
        onDone={onDone}
        onSend={(t) => {
          const goods = goodsGroup(t, {});
          return goods ? book.addGoods({ name: t.text("name"), goods, notes: t.text("notes") }) : undefined;
        }}
      >
        <h2>{say.newGoods}</h2>
        <GoodsInputs />
      </Form>
    </section>
  );
}

export function AtGoods({ row, inUse, onChanged }: { row: GoodsRow; inUse: boolean; onChanged: (next?: null) => void }) {
  return (
    <section class="stack" aria-labelledby="goods-name">
      <h2 id="goods-name">{row.name}</h2>
      {row.notes && <p>{row.notes}</p>}
      <Form
        does={say.writeAnew}
        keep
        done={say.goodsKept}
        onDone={() => onChanged()}
        onSend={(t) => {
          const goods = goodsGroup(t, row.goods);
          return goods ? book.writeGoods({ id: row.id, name: t.text("name"), goods, notes: t.text("notes") }) : undefined;
        }}
      >
        <GoodsInputs row={row} />
      </Form>
      {!inUse && <Send does={say.removeGoods} plain onSend={() => book.removeGoods(row.id)} onDone={() => onChanged(null)} />}
    </section>
  );
}

function moved(m: Movement): string {
  const mm = Math.abs(m.moved_mm);
  if (mm === 0) return say.noChange;
  return `${m.moved_mm < 0 ? "−" : "+"}${long(mm)}`;
}

function Movements({ list }: { list: Movement[] }) {
  return (
    <ol class="story">
      {list.map((m) => (
        <li key={m.id}>
          <span>
            <b>{say.movements[m.kind] ?? m.kind}</b>
            {m.note && <span> {m.note}</span>}
          </span>
          <span class="number">
            <Prose text={moved(m)} />
          </span>
          <span class="quiet small">
            {day(m.at)}
            {m.by && ` · ${m.by}`}
            {m.job > 0 && (
              <>
                {" · "}
                <a href={addressOf(String(m.job), "roll")}>{say.job(m.job)}</a>
              </>
            )}
          </span>
        </li>
      ))}
    </ol>
  );
}

export function AtRoll({ roll, goods, onChanged }: { roll: Roll; goods: GoodsRow | undefined; onChanged: () => void }) {
  const story = useAsked(() => book.roll(roll.id), [roll.id, roll.left_mm, roll.reserved_mm]);
  const changed = () => {
    story.again();
    onChanged();
  };
  const held = story.answer?.reserved_for ?? [];
  const flaws = story.answer?.movements.filter((m) => m.note.startsWith(say.flawMark)) ?? [];
  return (
    <section class="wide-stack" aria-labelledby="roll-name">
      <div class="stack">
        <h2 id="roll-name">{goods?.name}</h2>
        <h3>{say.lot(roll.lot, roll.label)}</h3>
        <dl class="facts">
          <dt>{say.leftOnIt}</dt>
          <dd>
            <Prose text={long(roll.left_mm)} />
          </dd>
          <dt>{say.heldForJobs}</dt>
          <dd>
            <Prose text={long(roll.reserved_mm)} />
          </dd>
          <dt>{say.cameIn(day(roll.received))}</dt>
          <dd>
            <Prose text={long(roll.received_mm)} />
          </dd>
        </dl>
        <Away asked={story} />
        {held.map((h) => (
          <div class="row between" key={h.job}>
            <a href={addressOf(String(h.job), "roll")}>
              <Prose text={`${say.job(h.job)}: ${long(h.length_mm)}`} />
            </a>
            <Send does={say.letGo} plain onSend={() => book.reserve(roll.id, h.job, 0)} onDone={changed} />
          </div>
        ))}
        {flaws.length > 0 && (
          <>
            <h3>{say.flawsNoted}</h3>
            <ul class="ticks">
              {flaws.map((m) => (
                <li key={m.id}>
                  <span class="tick flaw" aria-hidden="true">
                    ×
                  </span>
                  <span>
                    <Prose text={m.note.slice(say.flawMark.length)} /> <span class="quiet small">{day(m.at)}</span>
                  </span>
                </li>
              ))}
            </ul>
          </>
        )}
      </div>
      <div>
      <details>
        <summary>{say.correctLength}</summary>
        <Form
          does={say.writeCount}
          done={say.counted}
          onDone={changed}
          onSend={(t) => {
            const mm = t.mm("left");
            return mm === null ? undefined : book.countRoll(roll.id, mm, t.text("note"));
          }}
        >
          <LengthInput label={say.tapeFound} name="left" required example={inShownUnits(roll.left_mm)} />
          <Input label={say.why} name="note" example={say.whyExample} />
        </Form>
      </details>
      <details>
        <summary>{say.noteFlaw}</summary>
        <Form
          does={say.noteFlaw}
          done={say.flawKept}
          onDone={changed}
          onSend={(t) => {
            const from = t.mm("from");
            const to = t.mm("to");
            if (from === null || to === null) return undefined;
            return book.countRoll(roll.id, roll.left_mm, say.flawMark + say.flawAt(t.text("what"), long(from), long(to)));
          }}
        >
          <Input label={say.whatFlaw} name="what" required example={say.flawExample} />
          <div class="pair">
            <LengthInput label={say.flawFrom} name="from" required />
            <LengthInput label={say.flawTo} name="to" required />
          </div>
          <p class="hint">{say.flawHelp}</p>
        </Form>
      </details>
      </div>
      <section class="stack">
        <h2>{say.cameAndWent}</h2>
        {story.answer && <Movements list={story.answer.movements} />}
      </section>
    </section>
  );
}

export function AtOffcut({ offcut, goods, onGone }: { offcut: Offcut; goods: GoodsRow | undefined; onGone: () => void }) {
  const box = offcut.box;
  return (
    <section class="wide-stack" aria-labelledby="offcut-name">
      <div class="stack">
        <h2 id="offcut-name">{say.offcut(offcut.id)}</h2>
        <h3>{goods?.name}</h3>
        {box && <OffcutDrawing offcut={offcut} scale={Math.min(270 / box[2], 300 / box[3])} named />}
        <dl class="facts">
          <dt>{say.offcutSize}</dt>
          <dd>
            <Prose text={`${inShownUnits(offcut.length_mm)} × ${long(offcut.width_mm)}`} />
          </dd>
          <dt>{say.lotName}</dt>
          <dd>{offcut.lot || "–"}</dd>
          <dt>{say.leftBy}</dt>
          <dd>
            {offcut.from_job > 0 ? <a href={addressOf(String(offcut.from_job), "roll")}>{say.job(offcut.from_job)}</a> : "–"}
          </dd>
          <dt>{say.inRackSince}</dt>
          <dd>{day(offcut.created)}</dd>
        </dl>
        <p class="hint">{say.offcutHelp}</p>
      </div>
      <Form does={say.takeOffcutOut} done={say.offcutGone} onDone={onGone} onSend={(t) => book.discardOffcut(offcut.id, t.text("note"))}>
        <Input label={say.whereTo} name="note" required example={say.whereToExample} />
      </Form>
    </section>
  );
}
