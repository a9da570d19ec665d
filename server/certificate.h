// The certificate with which the shop's network is served. Inside of server/.
#pragma once

#include <string>
#include <vector>

#include "core/base/result.h"

namespace spile::server {

struct Certificate {
    std::string certificate_pem, key_pem;
    std::string fingerprint;  ///< SHA-256 in pairs of figures, as browsers show it
};

/// A certificate this machine signs itself, for these names and addresses, ten years. ECDSA on P-256 (RFC 5480).
Result<Certificate> make_certificate(const std::vector<std::string>& names_and_addresses);

/// Reads what make_certificate gave; nothing when it cannot be read or is for other names.
std::optional<Certificate> read_certificate(const std::string& certificate_pem, const std::string& key_pem,
                                            const std::vector<std::string>& names_and_addresses);

/// Addresses of this machine that others can reach, and its name.
std::vector<std::string> lan_names();

}  // namespace spile::server
