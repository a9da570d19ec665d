// Bytes as text.
#pragma once

#include <optional>
#include <string>

namespace spile::shop {

/// RFC 4648, section 4, padded.
std::string to_base64(const std::string& bytes);
/// On bad input: nothing; no letter, no space and no missing padding is passed over.
std::optional<std::string> from_base64(const std::string& text);

}  // namespace spile::shop
