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

}  // namespace

const std::vector<const char*>& schema_steps() {
    static const std::vector<const char*> steps = {kVersion1};
    return steps;
}

}  // namespace spile::shop
