// Somebody asks by telephone: a range, with its reasons, before anything is measured.
import { useState } from "preact/hooks";
import { book, type Ballpark } from "../shop/book";
import { Form, Input, LengthInput } from "../parts/Form";
import { Prose } from "../parts/Text";
import { units } from "../state/store";
import { bookWords as say } from "../words/en_book";

export function Telephone() {
  const [range, setRange] = useState<Ballpark | null>(null);
  return (
    <details class="card telephone">
      <summary>{say.telephone}</summary>
      <Form
        does={say.sayARange}
        keep
        onSend={(t) => {
          const mm = t.text("length") === "" ? 0 : t.mm("length");
          return mm === null ? undefined : book.ballpark(Math.round(mm), t.text("kind"), Math.max(1, t.whole("panels"))).then(setRange);
        }}
      >
        <Input label={say.whatKind} name="kind" example={say.kindExample} />
        <div class="pair">
          <Input label={say.howManyPanels} name="panels" mode="numeric" required value="5" />
          <LengthInput label={say.boatLength} name="length" mayBeEmpty example={units.value === "in" ? "24'" : "7300"} />
        </div>
      </Form>
      {range && (
        <div role="status" class="stack">
          <p class="range">
            {range.low.text} – {range.high.text}
          </p>
          <ul>
            {range.reasons.map((r) => (
              <li key={r} class="small quiet">
                <Prose text={r} />
              </li>
            ))}
          </ul>
        </div>
      )}
    </details>
  );
}
