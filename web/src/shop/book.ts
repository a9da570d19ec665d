// The shop's book on its own machine: stock, prices, papers, people, settings, safe keeping. Lengths are millimetres, moments
// seconds since 1970, money whole coins beside its text.
import { asBase64 } from "../parts/base64";
import type { Box, Finding, Length } from "../core/answers";
import { call, layingOut_ms } from "./call";
import type { JobHead, JobState } from "./shop";

export interface GoodsRow {
  id: number;
  name: string;
  /** the group "goods" of a job file */
  goods: Record<string, unknown>;
  notes: string;
}
export interface Roll {
  id: number;
  goods: number;
  lot: string;
  label: string;
  received_mm: number;
  left_mm: number;
  reserved_mm: number;
  received: number;
}
export interface Movement {
  id: number;
  at: number;
  by: string;
  kind: string;
  roll: number;
  offcut: number;
  job: number;
  moved_mm: number;
  note: string;
}
export interface Reservation {
  job: number;
  length_mm: number;
  at: number;
  by: string;
}
export interface RollStory {
  roll: Roll;
  reserved_for: Reservation[];
  movements: Movement[];
}
export interface Offcut {
  id: number;
  goods: number;
  lot: string;
  length_mm: number;
  width_mm: number;
  state: string;
  from_job: number;
  created: number;
  d: string;
  box: Box | null;
}
/// A further length of goods that a layout is cut from.
export interface CutFrom {
  roll: number;
  offcut: number;
  used_mm: number;
}
/// One way to cut the whole set.
export interface StockChoice {
  from: "roll" | "offcut" | "to buy";
  roll: number;
  offcut: number;
  more: CutFrom[];
  /** Of several lengths: what the job says when it keeps this layout. */
  kept_layout: object | null;
  lot: string;
  other_lot: boolean;
  /** With a roll or an offcut too: the last stretch of the layout. */
  to_buy_mm: number;
  cost: Money;
  because: string;
}
export interface AcceptedLayout {
  id: string;
  job: number;
  rev: number;
  roll: number;
  offcut: number;
  used_mm: number;
  at: number;
  taken_back: number;
  more: CutFrom[];
}
export interface Money {
  coins: number;
  text: string;
}
/// What a stretch of days came to.
export interface MoneyTotals {
  currency: string;
  net: Money;
  tax: Money;
  invoiced: Money;
  paid: Money;
  quoted: Money;
}
export interface Totals {
  from: string;
  to: string;
  received_mm: number;
  cut_mm: number;
  minutes: number;
  money: MoneyTotals[];
  papers: Record<string, number>;
  jobs: Record<string, number>;
}
export interface Ballpark {
  low: Money;
  high: Money;
  past_jobs: number;
  reasons: string[];
}
export interface PriceListHead {
  since: string;
  at: number;
  by: string;
}
export interface CostLine {
  group: "material" | "labour" | "travel";
  what: string;
  amount: number;
  unit: string;
  cost: Money | null;
  because: string;
}
export interface Priced {
  goods: string;
  prices_since: string;
  used_mm: number;
  bought_mm: number;
  lines: CostLine[];
  priced: boolean;
  material: Money;
  labour: Money;
  travel: Money;
  cost: Money;
  price: Money;
  rush: Money;
  net: Money;
  tax: Money;
  total: Money;
  deposit: Money;
  mark_up_percent: number;
  margin_percent: number;
  tax_percent: number;
  by_old_rule: Money;
  minutes: number;
  minutes_sd: number;
  guesses: number;
  steps: string[];
}
export interface Cost {
  number: string;
  valid_until: string;
  priced: Priced[];
  findings: Finding[];
}
export type PaperKind = "quote" | "order list" | "invoice" | "care sheet" | "credit note";
export interface SentPaper {
  number: string;
  kind: PaperKind;
  job: number;
  rev: number;
  at: number;
  by: string;
  total: Money;
  valid_until: string;
}
export interface Payment {
  id: number;
  day: string;
  amount: Money;
  note: string;
  by: string;
}
export interface Account {
  account: { invoiced: Money; paid: Money; owed: Money };
  payments: Payment[];
}
export interface JobNote {
  id: number;
  at: number;
  by: string;
  text: string;
}
export interface KeptFile {
  id: number;
  name: string;
  media: string;
  bytes: number;
}
export interface Customer {
  id: number;
  name: string;
  phone: string;
  email: string;
  address: string;
  notes: string;
}
export interface Boat {
  id: number;
  customer: number;
  name: string;
  make: string;
  model: string;
  year: number;
  hull_number: string;
  berth: string;
  notes: string;
}
export interface RevisionHead {
  rev: number;
  at: number;
  by: string;
  why: string;
}
export interface StateChange {
  at: number;
  by: string;
  from: JobState;
  to: JobState;
}
export interface CheckedSize {
  space: string;
  from: string;
  to: string;
  expected_mm: number;
  limit_mm: number;
  line: string;
  reads_mm: number | null;
  agrees: boolean;
}
export interface Checked {
  checked: { all_agree: boolean; job: JobHead; sizes: CheckedSize[] };
  findings: Finding[];
}
export interface ShopSettings {
  name?: string;
  address?: string;
  terms?: string;
}
/// What a new job begins with.
export interface PaperSettings {
  rule_measured?: string;
  mark_on?: "back" | "face";
  units?: "in" | "mm";
}
export interface Settings {
  shop: ShopSettings | null;
  paper: PaperSettings | null;
}
/// A drawing made elsewhere, and what is said of it.
export interface AskedDrawing {
  name: string;
  base64: string;
  units?: string;
  gap?: string;
}
/// A closed outline of it, from 1, largest first; `inside`: the number of the smallest that holds it, or 0.
export interface Outlined {
  number: number;
  layer: string;
  along: Length;
  across: Length;
  d: string;
  corners: number;
  inside: number;
  departure: Length;
  widest_gap: Length;
}
/// Base64 of it, with what is round it, stays below the 16 MB of a request.
const copyPart_bytes = 6_000_000;

export interface Backup {
  name: string;
  bytes: number;
}

const of = (id: number | string): string => encodeURIComponent(String(id));
const list = <K extends string, T>(key: K, path: string): Promise<T[]> =>
  call<Record<K, T[]>>("GET", path).then((answer) => answer[key]);

export const book = {
  goods: () => list<"goods", GoodsRow>("goods", "goods?limit=1000"),
  addGoods: (row: Omit<GoodsRow, "id">) => call<{ goods: GoodsRow }>("POST", "goods", row),
  writeGoods: ({ id, ...row }: GoodsRow) => call<{ goods: GoodsRow }>("PUT", `goods/${of(id)}`, row),
  removeGoods: (id: number) => call("DELETE", `goods/${of(id)}`),
  rolls: () => list<"rolls", Roll>("rolls", "rolls"),
  addRoll: (goods: number, lot: string, label: string, length_mm: number) =>
    call<{ roll: Roll }>("POST", "rolls", { goods, lot, label, length_mm }),
  roll: (id: number) => call<RollStory>("GET", `rolls/${of(id)}`),
  countRoll: (id: number, left_mm: number, note: string) =>
    call<{ roll: Roll }>("POST", `rolls/${of(id)}/count`, { left_mm, note }),
  reserve: (id: number, job: number, length_mm: number) =>
    call<{ roll: Roll }>("POST", `rolls/${of(id)}/reserve`, { job, length_mm }),
  offcuts: () => list<"offcuts", Offcut>("offcuts", "offcuts?limit=1000"),
  discardOffcut: (id: number, note: string) => call<{ offcut: Offcut }>("POST", `offcuts/${of(id)}/discard`, { note }),

  /// The best first.
  choices: (job: string) =>
    call<{ choices: StockChoice[]; findings: Finding[] }>("GET", `jobs/${of(job)}/choices`, undefined, layingOut_ms),
  layoutsOf: (job: string) => list<"layouts", AcceptedLayout>("layouts", `jobs/${of(job)}/cut`),
  cut: (job: string, from: { roll: number } | { offcut: number } | Record<string, never>, again: boolean) =>
    call<{ head: JobHead; offcuts: number[] }>("POST", `jobs/${of(job)}/cut`, { ...from, again }, layingOut_ms),
  uncut: (layout: string) => call<{ head: JobHead }>("DELETE", `cut/${of(layout)}`),

  priceLists: () => list<"prices", PriceListHead>("prices", "prices"),
  prices: (day: string) => call<{ text: string }>("GET", `prices/${of(day)}`).then((a) => a.text),
  addPrices: (text: string) => call<{ list: PriceListHead }>("POST", "prices", { text }),
  ballpark: (length_mm: number, kind: string, panels: number) =>
    call<{ ballpark: Ballpark }>(
      "GET",
      `ballpark?panels=${panels}&length_mm=${length_mm}&kind=${encodeURIComponent(kind)}`,
    ).then((a) => a.ballpark),
  cost: (job: string, rush: boolean, instead: string[]) =>
    call<Cost>("POST", `jobs/${of(job)}/cost`, { rush, instead }, layingOut_ms),
  papers: (job: string) => list<"papers", SentPaper>("papers", `jobs/${of(job)}/sent`),
  send: (job: string, kind: PaperKind, rush: boolean, instead: string[]) =>
    call<{ paper: SentPaper; findings: Finding[] }>("POST", `jobs/${of(job)}/sent`, { kind, rush, instead }, layingOut_ms),
  sentAddress: (number: string): string => `api/sent/${of(number)}`,
  account: (job: string) => call<Account>("GET", `jobs/${of(job)}/account`),
  pay: (job: string, amount: string, back: boolean, note: string) =>
    call<{ payment: Payment }>("POST", `jobs/${of(job)}/payments`, { amount, back, note }),

  customers: () => list<"customers", Customer>("customers", "customers?limit=1000"),
  addCustomer: (customer: Partial<Customer>) => call<{ customer: Customer }>("POST", "customers", customer),
  changeCustomer: (id: number, customer: Partial<Customer>) =>
    call<{ customer: Customer }>("PATCH", `customers/${of(id)}`, customer),
  boats: () => list<"boats", Boat>("boats", "boats?limit=1000"),
  addBoat: (boat: Partial<Boat>) => call<{ boat: Boat }>("POST", "boats", boat),
  changeBoat: (id: number, boat: Partial<Boat>) => call<{ boat: Boat }>("PATCH", `boats/${of(id)}`, boat),

  changeJob: (job: string, change: { state?: JobState; promised?: string; customer?: number; boat?: number }) =>
    call<{ head: JobHead }>("PATCH", `jobs/${of(job)}`, change),
  notes: (job: string) => list<"notes", JobNote>("notes", `jobs/${of(job)}/notes`),
  addNote: (job: string, text: string) => call("POST", `jobs/${of(job)}/notes`, { text }),
  files: (job: string) => list<"files", KeptFile>("files", `jobs/${of(job)}/files`),
  addFile: (job: string, name: string, media: string, base64: string) =>
    call("POST", `jobs/${of(job)}/files`, { name, media, base64 }, layingOut_ms),
  lookAtDrawing: (drawing: AskedDrawing) =>
    call<{ count: number; outlines: Outlined[]; box: [number, number, number, number] | null; findings: Finding[] }>(
      "POST",
      "drawings/look",
      drawing,
      layingOut_ms,
    ),
  jobOfDrawing: (drawing: AskedDrawing & { outlines: number[]; title: string }) =>
    call<{ head: JobHead }>("POST", "drawings/job", drawing, layingOut_ms),
  fileAddress: (job: string, file: number): string => `api/jobs/${of(job)}/files/${file}`,
  removeFile: (job: string, file: number) => call("DELETE", `jobs/${of(job)}/files/${file}`),
  tickets: () => list<"tickets", { job: number; minutes: number }>("tickets", "tickets"),
  writeTicket: (job: string, minutes: number) => call("PUT", `jobs/${of(job)}/ticket`, { minutes }),
  states: (job: string) => list<"states", StateChange>("states", `jobs/${of(job)}/states`),
  revisions: (job: string, before: number) =>
    list<"revisions", RevisionHead>("revisions", `jobs/${of(job)}/revisions${before > 0 ? `?before=${before}` : ""}`),
  revision: (job: string, rev: number) =>
    call<{ job: string }>("GET", `jobs/${of(job)}/revisions/${rev}`).then((a) => a.job),
  fitted: (job: string, base_rev: number) => call<{ head: JobHead }>("POST", `jobs/${of(job)}/fitted`, { base_rev }),
  repeat: (job: string, how: { goods?: number; sister?: boolean; boat?: number; customer?: number; promised?: string }) =>
    call<{ head: JobHead }>("POST", `jobs/${of(job)}/repeat`, how).then((a) => a.head),
  checkSizes: (job: string, lines: string[]) => call<Checked>("POST", `jobs/${of(job)}/check-sizes`, { lines }),

  settings: () => call<{ settings: Settings }>("GET", "settings").then((a) => a.settings),
  writeSetting: (name: keyof Settings, value: object) => call("PUT", `settings/${of(name)}`, value),
  totals: (from: string, to: string) =>
    call<{ totals: Totals }>("GET", `totals?from=${of(from)}&to=${of(to)}`).then((a) => a.totals),
  proveBook: () => call<{ says: string; version: number; rolls: number }>("GET", "book"),
  backups: () => call<{ folder: string; put_back: string; backups: Backup[] }>("GET", "backups"),
  backUp: () => call<{ name: string; says: string }>("POST", "backups", {}, layingOut_ms),
  tryBackup: (name: string) => call<{ says: string }>("POST", `backups/${of(name)}/try`, {}, layingOut_ms),
  /// A copy from elsewhere, in parts that a request holds; with the last one it is proved and stands among the copies.
  bringCopy: async (file: File, onPart: (share: number) => void): Promise<{ name: string; says: string }> => {
    for (let from = 0; ; from += copyPart_bytes) {
      onPart(from / Math.max(1, file.size));
      const part = file.slice(from, from + copyPart_bytes);
      const base64 = await asBase64(part);
      const answer = await call<{ there?: number; name?: string; says?: string }>("POST", "backups/brought", { from, of: file.size, base64 }, layingOut_ms);
      if (answer.name !== undefined) return { name: answer.name, says: answer.says ?? "" };
    }
  },
  /// The program starts again with it; nobody answers for a while.
  putBack: (name: string) =>
    call<{ says: string; aside: string }>("POST", `backups/${of(name)}/put-back`, { instead_of_the_book: true }, layingOut_ms),
  backupAddress: (name: string): string => `api/backups/${of(name)}`,
};
