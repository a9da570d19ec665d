// The surface of the core: one question as JSON in, one answer as JSON out. The browser and the server ask it the same way.
#pragma once

#include <string>
#include <string_view>

namespace spile::surface {

/// `request`: {"do": NAME, ...}; docs/surface.schema.json is the description of every question and answer.
/// Guarantees: (1) always one JSON object, with "ok"; (2) without state: the same question has the same answer; (3) what is
/// wrong with the question is a list of findings under "findings", with "ok" false.
/// A job travels as its text in settled form (core/job/edit.h), so that what was typed is never reformatted on the way.
std::string answer(std::string_view request);

}  // namespace spile::surface
