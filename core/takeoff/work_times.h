// How long each operation takes: the one place that a price and a ticket take their minutes from.
#pragma once

#include <map>
#include <string>

namespace spile {

/// What one operation takes. The first numbers are guesses of ours, marked so, until the shop's own tickets speak.
struct WorkTime {
    double minutes = 0;     ///< for one, or for one metre
    double sd_minutes = 0;  ///< how sure; 0: not known
    int jobs = 0;           ///< finished tickets it was estimated from; 0: a guess
};

/// Minutes by the code of the operation (QuantityLine::code), with "visit", "space" (patterning one space), "fit" (fitting
/// one piece) besides.
using WorkTimes = std::map<std::string, WorkTime>;

/// Guesses of ours, no source: a shop starts with them and they say so in every line.
WorkTimes guessed_times();
/// Whether the minutes of this operation are for a metre of it.
bool per_metre(const std::string& code);
/// Minutes of so much of an operation (mm for a length, else a count), to the hundredth: as they are paid and as a ticket
/// plans them, so that both say the same.
double minutes_for(const std::string& code, double amount, const WorkTime& time);

}  // namespace spile
