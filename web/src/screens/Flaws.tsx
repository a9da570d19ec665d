// Places of the goods that cannot be used: no piece is laid on them.
import type { Job } from "../../../wasm/types/job";
import { act, openJob, units } from "../state/store";
import { Form, Input, LengthInput, withUnit } from "../parts/Form";
import { bookWords as say } from "../words/en_book";
import { words } from "../words/en";

type Flaw = NonNullable<NonNullable<Job["goods"]>["flaws"]>[number];

export function Flaws() {
  const goods = openJob.value?.said.goods;
  if (!goods) return null;
  const flaws: Flaw[] = goods.flaws ?? [];
  const write = (name: string, now: Flaw[]): boolean =>
    act(name, [{ target: "/goods", field: "flaws", ...(goods.flaws ? { old: goods.flaws } : {}), ...(now.length > 0 ? { new: now } : {}) }]);
  return (
    <section class="stack" aria-labelledby="flaws">
      <h3 id="flaws">{say.flaws}</h3>
      {flaws.map((f, i) => (
        <div class="row between" key={`${i} ${f.from}`}>
          <span>{say.flawIs(f.name ?? String(i + 1), String(f.from), String(f.to))}</span>
          <button class="plain" onClick={() => write(say.flawOut(f.name ?? String(i + 1)), flaws.filter((other) => other !== f))}>
            {words.remove}
          </button>
        </div>
      ))}
      <Form
        does={say.noteFlaw}
        onSend={(t) => {
          const from = withUnit(t.text("from"));
          const to = withUnit(t.text("to"));
          if (t.mm("from") === null || t.mm("to") === null) return undefined;
          const [near, far] = [withUnit(t.text("near")), withUnit(t.text("far"))];
          const flaw = { ...(t.text("what") ? { name: t.text("what") } : {}), from, to, ...(near ? { near } : {}), ...(far ? { far } : {}) } as Flaw;
          write(say.flawIn(t.text("what")), [...flaws, flaw]);
          return Promise.resolve();
        }}
      >
        <Input label={say.whatFlaw} name="what" example={say.flawExample} />
        <div class="pair">
          <LengthInput label={say.flawFrom} name="from" required />
          <LengthInput label={say.flawTo} name="to" required />
        </div>
        <div class="pair">
          <LengthInput label={say.flawNear} name="near" mayBeEmpty />
          <LengthInput label={say.flawFar} name="far" mayBeEmpty />
        </div>
        <p class="hint">{say.flawJobHelp(units.value)}</p>
      </Form>
    </section>
  );
}
