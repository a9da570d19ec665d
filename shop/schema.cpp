#include "shop/schema.h"

namespace spile::shop {
namespace {

constexpr const char* kVersion1 = R"sql(
CREATE TABLE customer(
  id INTEGER PRIMARY KEY, name TEXT NOT NULL, phone TEXT NOT NULL, email TEXT NOT NULL, address TEXT NOT NULL,
  notes TEXT NOT NULL, created INTEGER NOT NULL, search TEXT NOT NULL) STRICT;
CREATE INDEX customer_by_name ON customer(name, id);

CREATE TABLE boat(
  id INTEGER PRIMARY KEY, customer INTEGER REFERENCES customer, name TEXT NOT NULL, make TEXT NOT NULL,
  model TEXT NOT NULL, year INTEGER NOT NULL, hull_number TEXT NOT NULL, berth TEXT NOT NULL, notes TEXT NOT NULL,
  created INTEGER NOT NULL, search TEXT NOT NULL) STRICT;
CREATE INDEX boat_by_customer ON boat(customer);
CREATE INDEX boat_by_make ON boat(make, model, name, id);

-- Lists read job alone; the newest document stands beside it, the older ones in job_revision.
CREATE TABLE job(
  id INTEGER PRIMARY KEY, customer INTEGER REFERENCES customer, boat INTEGER REFERENCES boat,
  state INTEGER NOT NULL, promised TEXT NOT NULL, rev INTEGER NOT NULL, title TEXT NOT NULL,
  boat_words TEXT NOT NULL, customer_words TEXT NOT NULL, repeat_of INTEGER REFERENCES job,
  repeat_of_rev INTEGER NOT NULL, unchecked INTEGER NOT NULL, as_fitted_rev INTEGER NOT NULL,
  created INTEGER NOT NULL, changed INTEGER NOT NULL, search TEXT NOT NULL) STRICT;
CREATE INDEX job_by_change ON job(changed, id);
CREATE INDEX job_by_customer ON job(customer);
CREATE INDEX job_by_boat ON job(boat);
CREATE INDEX job_by_repeat ON job(repeat_of);

CREATE TABLE job_document(job INTEGER PRIMARY KEY REFERENCES job, document TEXT NOT NULL) STRICT;

-- body: the whole text (whole = 1), or what stands between the first `head` and the last `tail` bytes of the revision
-- before it. sum: of the whole text.
CREATE TABLE job_revision(
  job INTEGER NOT NULL REFERENCES job, rev INTEGER NOT NULL, at INTEGER NOT NULL, by TEXT NOT NULL,
  why TEXT NOT NULL, whole INTEGER NOT NULL, head INTEGER NOT NULL, tail INTEGER NOT NULL, body BLOB NOT NULL,
  bytes INTEGER NOT NULL, sum INTEGER NOT NULL, PRIMARY KEY(job, rev)) STRICT;

CREATE TABLE job_edit(
  job INTEGER NOT NULL, rev INTEGER NOT NULL, seq INTEGER NOT NULL, op_id TEXT NOT NULL, op TEXT NOT NULL,
  PRIMARY KEY(job, rev, seq), UNIQUE(job, op_id), FOREIGN KEY(job, rev) REFERENCES job_revision) STRICT, WITHOUT ROWID;

CREATE TABLE job_state(
  id INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES job, at INTEGER NOT NULL, by TEXT NOT NULL,
  was INTEGER NOT NULL, became INTEGER NOT NULL) STRICT;
CREATE INDEX job_state_by_job ON job_state(job);

CREATE TABLE job_note(
  id INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES job, at INTEGER NOT NULL, by TEXT NOT NULL,
  text TEXT NOT NULL) STRICT;
CREATE INDEX job_note_by_job ON job_note(job);

CREATE TABLE attachment(
  id INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES job, name TEXT NOT NULL, media TEXT NOT NULL,
  by TEXT NOT NULL, added INTEGER NOT NULL, bytes INTEGER NOT NULL, sum INTEGER NOT NULL, body BLOB NOT NULL) STRICT;
CREATE INDEX attachment_by_job ON attachment(job);

CREATE TABLE setting(name TEXT PRIMARY KEY, value TEXT NOT NULL, changed INTEGER NOT NULL) STRICT;
)sql";

constexpr const char* kVersion2 = R"sql(
CREATE TABLE goods(
  id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, document TEXT NOT NULL, notes TEXT NOT NULL,
  search TEXT NOT NULL) STRICT;

-- Everything a quote is made with, from a day on. One written stays: quotes were made with it.
CREATE TABLE price_list(since TEXT PRIMARY KEY, document TEXT NOT NULL, at INTEGER NOT NULL, by TEXT NOT NULL)
  STRICT, WITHOUT ROWID;
CREATE TRIGGER price_list_stays BEFORE UPDATE ON price_list
  BEGIN SELECT raise(ABORT, 'a price list once written is never changed'); END;
CREATE TRIGGER price_list_is_kept BEFORE DELETE ON price_list
  BEGIN SELECT raise(ABORT, 'a price list once written is kept'); END;

-- Lengths in whole micrometres. left_um is the sum of the roll's movements.
CREATE TABLE roll(
  id INTEGER PRIMARY KEY, goods INTEGER NOT NULL REFERENCES goods, lot TEXT NOT NULL, label TEXT NOT NULL,
  received_um INTEGER NOT NULL, left_um INTEGER NOT NULL CHECK(left_um >= 0), received INTEGER NOT NULL,
  UNIQUE(goods, lot, label)) STRICT;

CREATE TABLE reservation(
  roll INTEGER NOT NULL REFERENCES roll, job INTEGER NOT NULL REFERENCES job, um INTEGER NOT NULL CHECK(um > 0),
  at INTEGER NOT NULL, by TEXT NOT NULL, PRIMARY KEY(roll, job)) STRICT, WITHOUT ROWID;

CREATE TABLE offcut(
  id INTEGER PRIMARY KEY, goods INTEGER NOT NULL REFERENCES goods, lot TEXT NOT NULL, from_job INTEGER REFERENCES job,
  layout TEXT NOT NULL, outline TEXT NOT NULL, length_um INTEGER NOT NULL, width_um INTEGER NOT NULL,
  area_mm2 REAL NOT NULL, state INTEGER NOT NULL, created INTEGER NOT NULL) STRICT;
CREATE INDEX offcut_in_rack ON offcut(goods, area_mm2, id) WHERE state = 0;
CREATE INDEX offcut_by_size ON offcut(area_mm2, id) WHERE state = 0;
CREATE INDEX offcut_by_layout ON offcut(layout);

-- An accepted layout: its id is what a stock movement happens once for.
CREATE TABLE layout(
  id TEXT PRIMARY KEY, job INTEGER NOT NULL REFERENCES job, rev INTEGER NOT NULL, roll INTEGER REFERENCES roll,
  offcut INTEGER REFERENCES offcut, used_um INTEGER NOT NULL, at INTEGER NOT NULL, taken_back INTEGER NOT NULL,
  FOREIGN KEY(job, rev) REFERENCES job_revision) STRICT, WITHOUT ROWID;

CREATE TABLE movement(
  id INTEGER PRIMARY KEY, at INTEGER NOT NULL, by TEXT NOT NULL, kind INTEGER NOT NULL,
  goods INTEGER NOT NULL REFERENCES goods, roll INTEGER REFERENCES roll, offcut INTEGER REFERENCES offcut,
  job INTEGER REFERENCES job, layout TEXT NOT NULL, um INTEGER NOT NULL, note TEXT NOT NULL) STRICT;
CREATE INDEX movement_by_roll ON movement(roll);
CREATE INDEX movement_by_job ON movement(job);

-- How long a finished job took, and what it took off then: counts by operation, JSON.
CREATE TABLE ticket(
  job INTEGER PRIMARY KEY REFERENCES job, at INTEGER NOT NULL, by TEXT NOT NULL, counts TEXT NOT NULL,
  minutes REAL NOT NULL) STRICT;

-- Never changed, never removed: the book itself refuses it.
CREATE TABLE paper(
  id INTEGER PRIMARY KEY, number TEXT NOT NULL UNIQUE, kind INTEGER NOT NULL, job INTEGER NOT NULL REFERENCES job,
  rev INTEGER NOT NULL, media TEXT NOT NULL, by TEXT NOT NULL, at INTEGER NOT NULL, net INTEGER NOT NULL,
  tax INTEGER NOT NULL, total INTEGER NOT NULL, currency TEXT NOT NULL, valid_until TEXT NOT NULL,
  bytes INTEGER NOT NULL, sum INTEGER NOT NULL, basis TEXT NOT NULL, body BLOB NOT NULL,
  FOREIGN KEY(job, rev) REFERENCES job_revision) STRICT;
CREATE INDEX paper_by_job ON paper(job);
CREATE INDEX paper_by_kind ON paper(kind);
CREATE TRIGGER paper_stays BEFORE UPDATE ON paper BEGIN SELECT raise(ABORT, 'a paper once sent is never changed'); END;
CREATE TRIGGER paper_is_kept BEFORE DELETE ON paper BEGIN SELECT raise(ABORT, 'a paper once sent is kept'); END;

-- Money that came in for a job; below zero: paid back. Written once, put right by another one.
CREATE TABLE payment(
  id INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES job, day TEXT NOT NULL, cents INTEGER NOT NULL
  CHECK(cents <> 0), currency TEXT NOT NULL, note TEXT NOT NULL, by TEXT NOT NULL, at INTEGER NOT NULL) STRICT;
CREATE INDEX payment_by_job ON payment(job);
CREATE TRIGGER payment_stays BEFORE UPDATE ON payment
  BEGIN SELECT raise(ABORT, 'a payment once written is never changed'); END;
CREATE TRIGGER payment_is_kept BEFORE DELETE ON payment
  BEGIN SELECT raise(ABORT, 'a payment once written is kept'); END;
)sql";

// Every search of the rack reads one of these alone: all that it asks and sorts by stands in them.
constexpr const char* kVersion3 = R"sql(
DROP INDEX offcut_in_rack;
DROP INDEX offcut_by_size;
CREATE INDEX offcut_by_size ON offcut(state, area_mm2, id, length_um, width_um, lot);
CREATE INDEX offcut_of_goods ON offcut(goods, state, area_mm2, id, length_um, width_um, lot);
)sql";

// A layout over several lengths: those after the first.
constexpr const char* kVersion4 = R"sql(
CREATE TABLE layout_more(
  layout TEXT NOT NULL REFERENCES layout, position INTEGER NOT NULL, roll INTEGER REFERENCES roll,
  offcut INTEGER REFERENCES offcut, used_um INTEGER NOT NULL, PRIMARY KEY(layout, position)) STRICT, WITHOUT ROWID;
)sql";

}  // namespace

const std::vector<const char*>& schema_steps() {
    static const std::vector<const char*> steps = {kVersion1, kVersion2, kVersion3, kVersion4};
    return steps;
}

}  // namespace spile::shop
