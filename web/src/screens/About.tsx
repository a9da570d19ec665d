// The job itself: whose it is and for which boat, how far the work has come, its history, and the next set from it.
import { book, type Boat, type Customer } from "../shop/book";
import { shop, type JobHead, type JobState } from "../shop/shop";
import { useAsked, type Asked } from "../state/asked";
import { openJob } from "../state/store";
import { Field } from "../parts/Field";
import { Away, Choose, Form, Input, Send } from "../parts/Form";
import { day } from "../parts/dates";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { setField, text } from "./AtPanel";
import { History } from "./History";
import { Records } from "./Records";
import { Repeat } from "./Repeat";

export const wayOfWork: JobState[] = ["enquiry", "quoted", "ordered", "in work", "fitted", "paid"];

export function About() {
  const job = openJob.value;
  const head = useAsked(() => shop.open(job?.id ?? "").then((kept) => kept.head), [job?.id, job?.text]);
  if (!job) return null;
  return (
    <main class="sheet wide-stack" id="content">
      <Away asked={head} />
      {head.answer && <State head={head.answer} onChanged={head.again} />}
      <div class="door">
        <div class="wide-stack">
          <Words />
          {head.answer && <People head={head.answer} onChanged={head.again} />}
          {head.answer && <Repeat head={head.answer} onChanged={head.again} />}
          <Records id={job.id} finished={head.answer?.state === "fitted" || head.answer?.state === "paid"} />
        </div>
        <History id={job.id} rev={head.answer?.rev ?? 0} />
      </div>
    </main>
  );
}

/// How far the work has come, and the step that follows.
export function State({ head, onChanged }: { head: JobHead; onChanged: () => void }) {
  const at = wayOfWork.indexOf(head.state);
  const next = wayOfWork[at + 1];
  const went = useAsked(() => book.states(String(head.id)), [head.id, head.state]);
  const since = went.answer?.filter((s) => s.to === head.state).at(-1)?.at ?? head.changed;
  const go = (state: JobState) => book.changeJob(String(head.id), { state });
  return (
    <section class="stack" aria-labelledby="state">
      <h1 id="state">
        {say.stateNow(say.states[head.state] ?? head.state)} <span class="quiet small">{say.since(day(since))}</span>
      </h1>
      <ol class="line">
        {wayOfWork.map((s, i) => (
          <li key={s} class={i < at ? "past" : i === at ? "here" : ""} aria-current={i === at ? "step" : undefined}>
            <span>{say.states[s]}</span>
          </li>
        ))}
      </ol>
      <div class="row">
        {next && at >= 0 && (
          <Send does={say.nowIs(say.states[next] ?? next)} strong onSend={() => go(next)} onDone={onChanged} />
        )}
        {at > 0 && <Send does={say.backTo(say.states[wayOfWork[at - 1] ?? "enquiry"] ?? "")} plain onSend={() => go(wayOfWork[at - 1] ?? "enquiry")} onDone={onChanged} />}
        {at >= 0 && at < 3 && <Send does={say.notTaken} plain onSend={() => go("not taken")} onDone={onChanged} />}
        {head.state === "not taken" && <Send does={say.takenAfterAll} onSend={() => go("enquiry")} onDone={onChanged} />}
      </div>
    </section>
  );
}

function Words() {
  const said = openJob.value?.said;
  if (!said) return null;
  const field = (name: "title" | "boat" | "customer" | "notes", label: string) => (
    <Field
      label={label}
      value={text(said[name] as string | undefined)}
      onTake={(v) => setField(`${label}: ${v}`, "", name, said[name], v)}
    />
  );
  return (
    <section class="stack" aria-labelledby="printed">
      <h2 id="printed">{say.printedWords}</h2>
      {field("title", words.jobTitle)}
      {field("boat", words.jobBoat)}
      {field("customer", words.jobCustomer)}
      {field("notes", words.jobNotes)}
    </section>
  );
}

const boatName = (b: Boat): string => [b.make, b.model, b.year > 0 ? String(b.year) : "", b.name && `“${b.name}”`, b.berth].filter(Boolean).join(" ");

function People({ head, onChanged }: { head: JobHead; onChanged: () => void }) {
  const id = String(head.id);
  const people = useAsked(async () => {
    const [customers, boats] = await Promise.all([book.customers(), book.boats()]);
    return { customers, boats };
  }, [head.customer_id, head.boat_id]);
  const all = people.answer;
  const customer = all?.customers.find((c) => c.id === head.customer_id);
  const boat = all?.boats.find((b) => b.id === head.boat_id);
  const done = () => {
    people.again();
    onChanged();
  };
  return (
    <section class="stack" aria-labelledby="people">
      <h2 id="people">{say.inTheBook}</h2>
      <Away asked={people as Asked<unknown>} />
      <Form does={say.setPromised} keep onDone={onChanged} onSend={(t) => book.changeJob(id, { promised: t.text("promised") })}>
        <Input label={say.promised} name="promised" type="date" value={head.promised} />
      </Form>
      {all && (
        <>
          <CustomerPart customer={customer} all={all.customers} onTake={(c) => book.changeJob(id, { customer: c, boat: 0 })} onDone={done} />
          <BoatPart boat={boat} all={all.boats.filter((b) => b.customer === head.customer_id || b.customer === 0)} owner={head.customer_id} onTake={(b) => book.changeJob(id, { boat: b })} onDone={done} />
        </>
      )}
    </section>
  );
}

function CustomerPart(props: { customer: Customer | undefined; all: Customer[]; onTake: (id: number) => Promise<unknown>; onDone: () => void }) {
  const { customer, all, onTake, onDone } = props;
  return (
    <div class="card stack">
      <h3>{customer ? customer.name : say.noCustomer}</h3>
      {customer && <p class="quiet">{[customer.phone, customer.email, customer.address].filter(Boolean).join(" · ")}</p>}
      {all.length > 0 && (
        <details>
          <summary>{say.chooseCustomer}</summary>
          <Form does={say.itIsTheirs} onDone={onDone} onSend={(t) => onTake(t.whole("customer"))}>
            <Choose label={words.jobCustomer} name="customer" value={String(customer?.id ?? 0)} all={[["0", say.nobody], ...all.map((c): [string, string] => [String(c.id), c.name])]} />
          </Form>
        </details>
      )}
      <details>
        <summary>{say.newCustomer}</summary>
        <Form
          does={say.writeCustomer}
          onDone={onDone}
          onSend={(t) =>
            book
              .addCustomer({ name: t.text("name"), phone: t.text("phone"), email: t.text("email"), address: t.text("address") })
              .then((made) => onTake(made.customer.id))
          }
        >
          <CustomerInputs />
        </Form>
      </details>
      {customer && (
        <details>
          <summary>{say.changeCustomer}</summary>
          <Form
            does={say.writeAnew}
            keep
            onDone={onDone}
            onSend={(t) => book.changeCustomer(customer.id, { name: t.text("name"), phone: t.text("phone"), email: t.text("email"), address: t.text("address") })}
          >
            <CustomerInputs customer={customer} />
          </Form>
        </details>
      )}
    </div>
  );
}

function CustomerInputs({ customer }: { customer?: Customer }) {
  return (
    <>
      <Input label={say.personName} name="name" required value={customer?.name ?? ""} />
      <Input label={say.phone} name="phone" type="tel" value={customer?.phone ?? ""} />
      <Input label={say.email} name="email" type="email" value={customer?.email ?? ""} />
      <Input label={say.address} name="address" value={customer?.address ?? ""} />
    </>
  );
}

function BoatPart(props: { boat: Boat | undefined; all: Boat[]; owner: number; onTake: (id: number) => Promise<unknown>; onDone: () => void }) {
  const { boat, all, owner, onTake, onDone } = props;
  return (
    <div class="card stack">
      <h3>{boat ? boatName(boat) : say.noBoat}</h3>
      {boat?.hull_number && <p class="quiet">{say.hull(boat.hull_number)}</p>}
      {all.length > 0 && (
        <details>
          <summary>{say.chooseBoat}</summary>
          <Form does={say.itIsHers} onDone={onDone} onSend={(t) => onTake(t.whole("boat"))}>
            <Choose label={words.jobBoat} name="boat" value={String(boat?.id ?? 0)} all={[["0", say.noBoat], ...all.map((b): [string, string] => [String(b.id), boatName(b)])]} />
          </Form>
        </details>
      )}
      <details>
        <summary>{say.newBoat}</summary>
        <Form
          does={say.writeBoat}
          onDone={onDone}
          onSend={(t) =>
            book
              .addBoat({
                customer: owner,
                name: t.text("name"),
                make: t.text("make"),
                model: t.text("model"),
                year: t.whole("year"),
                hull_number: t.text("hull"),
                berth: t.text("berth"),
              })
              .then((made) => onTake(made.boat.id))
          }
        >
          <div class="pair">
            <Input label={say.make} name="make" />
            <Input label={say.model} name="model" />
          </div>
          <div class="pair">
            <Input label={say.year} name="year" mode="numeric" />
            <Input label={say.boatName} name="name" />
          </div>
          <Input label={say.hullNumber} name="hull" />
          <Input label={say.berth} name="berth" />
        </Form>
      </details>
    </div>
  );
}

