// Photographs and other files kept with a job.
#pragma once

#include <string>
#include <vector>

#include "shop/store.h"

namespace spile::shop {

inline constexpr std::size_t kLargestAttachment_bytes = 50'000'000;

struct AttachmentHead {
    Id id = 0, job = 0;
    std::string name;   ///< "port side.jpg": no slash, no control characters, at most 200 characters
    std::string media;  ///< "image/jpeg"
    std::string by;
    std::size_t bytes = 0;
    Seconds added = 0;
};

/// On bad input: "not-there", "name-refused", "file-too-large" (more than kLargestAttachment_bytes), "file-empty".
Result<AttachmentHead> add_attachment(Store& store, Id job, const std::string& name, const std::string& media,
                                      const std::string& bytes, const std::string& by);
Result<std::vector<AttachmentHead>> list_attachments(Store& store, Id job);
/// The bytes as they were given. On bad input: "not-there"; "shop-damaged" when they are not.
Result<std::string> read_attachment(Store& store, Id id);
Result<Done> remove_attachment(Store& store, Id id);

}  // namespace spile::shop
