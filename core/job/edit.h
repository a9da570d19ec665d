// Edits: small operations on what was said, their inverse, and the merging of two lines of them. Pure functions on the
// document; natively and in the browser the same.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/job/document.h"

namespace spile {

/// One field of one thing, from what it was to what it shall be.
///
/// `target` names the thing by ids, never by number: "" the job, "/goods", "/spaces/cockpit", "/spaces/cockpit/tape",
/// "/spaces/cockpit/ties/t2", "/panels/1", "/panels/1/edges/A B" (either way round), "/panels/1/openings/post",
/// "/overrides/CODE SUBJECT", "/unsettled/ID". A slash inside a step is written "~1" and a tilde "~0" (RFC 6901).
///
/// `field` is a key of that thing. "" is the thing itself, an entry of a list that comes or goes; `behind` then names the
/// entry it stands behind ("": it is the first; absent: the last). "@order" on a list is the order of its entries, a list
/// of their names.
struct Edit {
    std::string target;
    std::string field;
    std::optional<JsonValue> was;    ///< absent: was not there
    std::optional<JsonValue> shall;  ///< absent: shall not be there
    std::optional<std::string> behind;

    bool operator==(const Edit&) const = default;
};

inline constexpr std::size_t most_edits = 20'000;  ///< of one action

/// The document as it is kept: readings have ids, keys have their one order, groups and lists that hold nothing are gone.
/// Guarantees: (1) says the same as before; (2) of its own result it changes nothing; (3) two documents that say the same
/// are written with the same bytes, digits of numbers apart.
JsonValue settled_form(JsonValue said);

/// The document with all edits, in their order; in settled form, as it must be given.
/// Guarantees: all or nothing.
/// On bad input: a stop "edit-target" (there is no such thing), "edit-outdated" (`was` is not what stands there),
/// "edit-form" or "too-many-edits", naming the edit by its number from 1.
Result<JsonValue> apply_edits(const JsonValue& said, const std::vector<Edit>& edits);

/// Takes the edits back: apply_edits(apply_edits(d, e), inverse(e)) is d.
std::vector<Edit> inverse(const std::vector<Edit>& edits);

/// The edits that lead from one document to another, both in settled form; as few fields as possible.
std::vector<Edit> edits_between(const JsonValue& from, const JsonValue& to);

/// Two lines that left `base`, brought together: what one of them changed is changed; where both changed the same field,
/// each value is kept: the one that sorts last stands in the document, the other in its "unsettled" list, for a person to
/// choose. A thing that one line took out and the other changed stays, and is unsettled.
/// Requires: all three in settled form.
/// Guarantees: (1) merge(b, x, y) and merge(b, y, x) have the same bytes, digits of equal numbers apart; (2) merge(b, b, y)
/// is y; (3) merge(b, x, x) is x.
/// Undo in the middle of a history is merge(after, before, now).
JsonValue merge_said(const JsonValue& base, const JsonValue& x, const JsonValue& y);

/// What stands at a field of a thing; with field "" the thing itself. Nothing when there is none.
std::optional<JsonValue> value_at(const JsonValue& said, const std::string& target, const std::string& field);

/// The edits that settle something said twice, taking the other value or leaving what stands.
/// On bad input: a stop "edit-target" when there is no such id.
Result<std::vector<Edit>> settle_edits(const JsonValue& said, const std::string& id, bool take_other);

/// Edits as JSON: a list of {"target", "field", "old", "new", "behind"}; old and new are left out where absent.
/// On bad input: a stop "edit-form" for each edit that is not of this form.
Result<std::vector<Edit>> edits_from_json(const JsonValue& list);
JsonValue edits_as_json(const std::vector<Edit>& edits);

}  // namespace spile
