// As fitted, the next set from it, and the few sizes that prove a copy for another boat.
import { book, type Checked, type CheckedSize } from "../shop/book";
import type { JobHead } from "../shop/shop";
import { useState } from "preact/hooks";
import { useAsked } from "../state/asked";
import { addressOf, go } from "../state/route";
import { Away, Choose, Faults, Form, Input, Send, withUnit } from "../parts/Form";
import { inShownUnits, Prose } from "../parts/Text";
import { units } from "../state/store";
import { bookWords as say } from "../words/en_book";

export function Repeat({ head, onChanged }: { head: JobHead; onChanged: () => void }) {
  const id = String(head.id);
  const work = head.state === "in work" || head.state === "fitted" || head.state === "paid";
  return (
    <section class="stack" aria-labelledby="repeat">
      <h2 id="repeat">{say.nextSet}</h2>
      {head.repeat_of > 0 && (
        <p>
          <a href={addressOf(String(head.repeat_of), "about")}>{say.repeatOf(head.repeat_of)}</a>
        </p>
      )}
      {(head.unchecked || head.repeat_of > 0) && <CheckSizes head={head} onChanged={onChanged} />}
      {head.as_fitted_rev > 0 ? (
        <p class="settled">✓ {say.asFitted(head.as_fitted_rev)}</p>
      ) : (
        <p class="quiet">{work ? say.asFittedHelp : say.asFittedLater}</p>
      )}
      {work && <Send does={say.markFitted} onSend={() => book.fitted(id, head.rev)} onDone={onChanged} />}
      {head.as_fitted_rev > 0 && <NewRepeat id={id} />}
    </section>
  );
}

function NewRepeat({ id }: { id: string }) {
  const goods = useAsked(() => book.goods(), []);
  return (
    <details>
      <summary>{say.startRepeat}</summary>
      <Form
        does={say.startRepeat}
        strong
        onSend={(t) => {
          const chosen = t.whole("goods");
          return book
            .repeat(id, { ...(chosen > 0 ? { goods: chosen } : {}), sister: t.flag("sister"), promised: t.text("promised") })
            .then((made) => go(String(made.id), "about"));
        }}
      >
        <Choose label={say.inGoods} name="goods" value="0" all={[["0", say.sameGoods], ...(goods.answer ?? []).map((g): [string, string] => [String(g.id), g.name])]} />
        <Input label={say.promised} name="promised" type="date" />
        <label class="choice">
          <input type="checkbox" name="sister" />
          <span>
            <b>{say.sister}</b> <span class="quiet">{say.sisterHelp}</span>
          </span>
        </label>
      </Form>
      <Away asked={goods} />
    </details>
  );
}

function CheckSizes({ head, onChanged }: { head: JobHead; onChanged: () => void }) {
  const [checked, setChecked] = useState<Checked | null>(null);
  const asked = useAsked(() => book.checkSizes(String(head.id), []), [head.id]);
  const sizes = checked?.checked.sizes ?? asked.answer?.checked.sizes ?? [];
  if (sizes.length === 0) return null;
  return (
    <div class="card stack">
      <h3>{head.unchecked ? say.uncheckedTitle : say.checkTitle}</h3>
      <p class="quiet">{say.checkHelp}</p>
      <Form
        does={say.checkThem}
        strong={head.unchecked}
        keep
        onSend={(t) => {
          const lines = sizes.flatMap((s) => {
            const reads = t.text(`${s.space}/${s.from} ${s.to}`);
            return reads ? [`${s.from} ${s.to} ${withUnit(reads)}`] : [];
          });
          return book.checkSizes(String(head.id), lines).then((answer) => {
            setChecked(answer);
            onChanged();
          });
        }}
      >
        {sizes.map((s) => (
          <Size key={`${s.space}/${s.from} ${s.to}`} size={s} judged={checked !== null && s.line !== ""} />
        ))}
      </Form>
      {checked && <Faults of={checked.findings} />}
      {checked?.checked.all_agree && <p class="settled">✓ {say.allAgree}</p>}
    </div>
  );
}

function Size({ size, judged }: { size: CheckedSize; judged: boolean }) {
  return (
    <div>
      <Input label={`${size.from} – ${size.to}`} name={`${size.space}/${size.from} ${size.to}`} mode="decimal" />
      <p class={`hint${judged && !size.agrees ? " bad" : ""}`}>
        <Prose text={say.shouldRead(inShownUnits(size.expected_mm), inShownUnits(size.limit_mm), units.value)} />
        {judged && ` ${size.agrees ? say.agrees : say.doesNotAgree}`}
      </p>
    </div>
  );
}
