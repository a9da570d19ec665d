// A question, read: what it must hold, and every fault of it as a finding. Inside of wasm/.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/job/document.h"
#include "wasm/show.h"

namespace spile::surface {

/// A job of the largest size, three of them in a merge, as texts in a text.
inline constexpr JsonLimits question_limits{32'000'000, 100'000, 12};

Finding question_fault(std::string says, std::string to_do);
Json refused(const std::vector<Finding>& findings);

/// Reads what a question needs. Each reader returns something to go on with when there is a fault; ask good() before use.
class Request {
  public:
    explicit Request(JsonValue asked) : asked_(std::move(asked)) {}

    bool good() const { return faults_.empty(); }
    Json refusal() const { return refused(faults_); }

    std::string text(const char* key);
    double number(const char* key);
    bool flag(const char* key);
    std::vector<double> numbers(const char* key);
    JsonValue value(const char* key);                    ///< of any kind
    JsonValue said(const char* key);                     ///< a job's text, as the document in settled form
    std::optional<Job> job(const char* key);             ///< a job's text, read
    std::optional<Layout> layout(const char* key);       ///< {"placements", "rounds"?}; may be absent
    std::vector<Placement> placements(const char* key);  ///< may be absent: none
    LengthStyle style();  ///< "units", and "denominator" or "mm_step" where given

  private:
    std::vector<Placement> placements_in(const JsonValue& list);
    const JsonValue* need(const char* key, JsonValue::Kind kind);
    void fault(std::string says, std::string to_do);

    JsonValue asked_;
    std::vector<Finding> faults_;
};

Json shown_reading(const Reading& reading, const LengthStyle& style);

}  // namespace spile::surface
