#include "shop/attachments.h"

#include "shop/rows.h"
#include "shop/words.h"

namespace spile::shop {
namespace {

constexpr const char* kColumns = "id, job, name, media, by, bytes, added";

AttachmentHead head_from(const Statement& row) {
    return {row.whole(0), row.whole(1), row.text(2),
            row.text(3),  row.text(4),  static_cast<std::size_t>(row.whole(5)),
            row.whole(6)};
}

}  // namespace

Result<AttachmentHead> add_attachment(Store& store, Id job, const std::string& name, const std::string& media,
                                      const std::string& bytes, const std::string& by) {
    return writing(store, [&](Database& database) {
        need_row(database, "job", "job", job);
        check_text(name, "the name of the file");
        check_text(media, "the kind of the file");
        check_text(by, "the name of who did it");
        const Subject subject{"attachment", name};
        if (name.empty() || name == "." || name == ".." || name.find_first_of("/\\") != std::string::npos)
            refuse("name-refused",
                   "\"" + name + "\" is no name of a file: it must not be empty or hold a slash.",
                   "Give it a plain name, like \"port side.jpg\".", subject);
        if (bytes.empty()) refuse("file-empty", name + " is empty.", "Choose the file again.", subject);
        if (bytes.size() > kLargestAttachment_bytes)
            refuse("file-too-large",
                   name + " has " + std::to_string(bytes.size()) + " bytes; 50 MB is the most.",
                   "Make the picture smaller.", subject,
                   {{"has", static_cast<double>(bytes.size()), "bytes"},
                    {"limit", static_cast<double>(kLargestAttachment_bytes), "bytes"}});
        Statement(database, "INSERT INTO attachment VALUES(NULL,?,?,?,?,?,?,?,?)")
            .with(job, name, media, by, database.now(), bytes.size(), sum_of(bytes), Bytes{bytes})
            .run();
        return AttachmentHead{database.last_id(), job, name, media, by, bytes.size(), database.now()};
    });
}

Result<std::vector<AttachmentHead>> list_attachments(Store& store, Id job) {
    return reading(store, [&](Database& database) {
        need_row(database, "job", "job", job);
        Statement rows(
            database,
            (std::string("SELECT ") + kColumns + " FROM attachment WHERE job=? ORDER BY id").c_str());
        rows.with(job);
        std::vector<AttachmentHead> list;
        while (rows.next()) list.push_back(head_from(rows));
        return list;
    });
}

Result<std::string> read_attachment(Store& store, Id id) {
    return reading(store, [&](Database& database) {
        Statement row(database, "SELECT body, sum FROM attachment WHERE id=?");
        if (!row.with(id).next()) need_row(database, "attachment", "attachment", id);
        std::string bytes = row.text(0);
        if (sum_of(bytes) != row.whole(1))
            refuse("shop-damaged", "Attachment " + std::to_string(id) + " is not the file that was kept.",
                   "Restore the newest backup to another name and look there.",
                   {"attachment", std::to_string(id)});
        return bytes;
    });
}

Result<Done> remove_attachment(Store& store, Id id) {
    return writing(store, [&](Database& database) {
        need_row(database, "attachment", "attachment", id);
        Statement(database, "DELETE FROM attachment WHERE id=?").with(id).run();
        return Done{};
    });
}

}  // namespace spile::shop
