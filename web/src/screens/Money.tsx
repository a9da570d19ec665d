// Papers sent for a job, each kept as it was, and its account.
import { book, type Account, type PaperKind, type SentPaper } from "../shop/book";
import { Form, Input, Send } from "../parts/Form";
import { day, dayOf } from "../parts/dates";
import { tell } from "../state/store";
import { bookWords as say } from "../words/en_book";

const kinds: PaperKind[] = ["quote", "order list", "invoice", "care sheet", "credit note"];

interface PapersProps {
  id: string;
  papers: SentPaper[];
  mayQuote: boolean;
  rush: boolean;
  instead: string[];
  onChanged: () => void;
}

export function PapersOf({ id, papers, mayQuote, rush, instead, onChanged }: PapersProps) {
  const quoted = papers.some((p) => p.kind === "quote");
  const invoices = papers.filter((p) => p.kind === "invoice").length;
  const credits = papers.filter((p) => p.kind === "credit note").length;
  const may: Record<PaperKind, boolean> = {
    quote: mayQuote,
    "order list": mayQuote,
    invoice: quoted && invoices === credits,
    "care sheet": true,
    "credit note": invoices > credits,
  };
  const next: PaperKind = !quoted ? "quote" : invoices === credits ? "invoice" : "care sheet";
  return (
    <section class="stack" aria-labelledby="sent">
      <h2 id="sent">{say.papersKept}</h2>
      <div class="row">
        {kinds.map(
          (kind) =>
            may[kind] && (
              <Send
                key={kind}
                does={say.makes[kind] ?? kind}
                strong={kind === next}
                onSend={() =>
                  book.send(id, kind, kind === "quote" && rush, kind === "quote" ? instead : []).then((made) => {
                    const look = made.findings[0];
                    tell(look ? `${made.paper.number}. ${look.says} ${look.to_do}` : say.made(made.paper.number));
                  })
                }
                onDone={onChanged}
              />
            ),
        )}
      </div>
      {papers.length === 0 ? (
        <p class="quiet">{say.noPapers}</p>
      ) : (
        <ul class="kept">
          {papers.map((p) => (
            <li key={p.number}>
              <a href={book.sentAddress(p.number)} target="_blank" rel="noopener">
                <b class="number-of">{p.number}</b>
                <span>
                  {say.paper[p.kind] ?? p.kind}
                  {p.valid_until && <span class="quiet small"> {say.validUntil(dayOf(p.valid_until))}</span>}
                </span>
                <b>{p.total.coins !== 0 ? p.total.text : ""}</b>
                <span class="quiet small">{day(p.at)}</span>
              </a>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

export function AccountOf({ id, account, onChanged }: { id: string; account: Account; onChanged: () => void }) {
  const { invoiced, paid, owed } = account.account;
  return (
    <section class="stack" aria-labelledby="account">
      <h2 id="account">{say.account}</h2>
      <dl class="account">
        <div>
          <dt>{say.invoiced}</dt>
          <dd>{invoiced.text}</dd>
        </div>
        <div>
          <dt>{say.paid}</dt>
          <dd>{paid.text}</dd>
        </div>
        <div class={owed.coins > 0 ? "owed" : ""}>
          <dt>{owed.coins < 0 ? say.inAdvance : say.owed}</dt>
          <dd class={owed.coins === 0 && invoiced.coins > 0 ? "settled" : ""}>{owed.coins < 0 ? owed.text.replace("-", "") : owed.text}</dd>
        </div>
      </dl>
      {account.payments.length > 0 && (
        <ol class="story">
          {account.payments.map((p) => (
            <li key={p.id}>
              <span>
                <b>{p.amount.coins < 0 ? say.paidBack : say.cameInMoney}</b> {p.note}
              </span>
              <span class="number">{p.amount.text}</span>
              <span class="quiet small">{dayOf(p.day)}</span>
            </li>
          ))}
        </ol>
      )}
      <details>
        <summary>{say.moneyCame}</summary>
        <Form
          does={say.writePayment}
          done={say.paymentKept}
          onDone={onChanged}
          onSend={(t) => book.pay(id, t.text("amount"), t.flag("back"), t.text("note"))}
        >
          <div class="pair">
            <Input label={say.amount} name="amount" required mode="decimal" example="250.00" />
            <Input label={say.whatFor} name="note" example={say.deposit} />
          </div>
          <label class="choice">
            <input type="checkbox" name="back" />
            <span>{say.isPaidBack}</span>
          </label>
        </Form>
      </details>
      <p class="hint">{say.accountHelp}</p>
    </section>
  );
}
