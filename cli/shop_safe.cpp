// spile shop backup, check, restore, export, import; and the shop's own name.
#include "cli/shop_call.h"
#include "shop/safe.h"
#include "shop/settings.h"

namespace spile::cli {
namespace {

Result<Said> said_in_words(const Result<std::string>& done) {
    if (!done) return {std::nullopt, done.findings};
    return {Said{Json{{"says", *done}}, *done + '\n'}, done.findings};
}

Result<Said> backup(const Call& call) {
    return said_in_words(shop::back_up(*call.store, call.text("FILE")));
}

Result<Said> check(const Call& call) {
    Result<std::string> pages = shop::check_book(*call.store);
    if (!pages) return said_in_words(pages);
    const auto rolls = shop::audit_stock(*call.store);
    if (!rolls) return {std::nullopt, rolls.findings};
    *pages += " Every roll is the sum of its movements.";
    return said_in_words(pages);
}

Result<Said> restore(const Call& call) {
    return said_in_words(shop::restore_backup(call.text("BACKUP"), call.book));
}

Result<Said> export_to(const Call& call) {
    return said_in_words(shop::export_book(*call.store, call.text("FOLDER")));
}

Result<Said> import_from(const Call& call) {
    return said_in_words(shop::import_book(call.text("FOLDER"), call.book));
}

Result<Said> about(const Call& call) {
    const auto kept = shop::read_setting(*call.store, "shop");
    if (!kept) return {std::nullopt, kept.findings};
    Json json = *kept ? Json::parse(**kept, nullptr, false) : Json::object();
    bool changed = false;
    for (const char* key : {"name", "address", "terms"})
        if (call.has(key)) {
            json[key] = call.text(key);
            changed = true;
        }
    if (changed) {
        const auto done = shop::write_setting(*call.store, "shop", json.dump());
        if (!done) return {std::nullopt, done.findings};
    }
    return Result<Said>::ok({json});
}

}  // namespace

std::vector<Verb> safe_verbs() {
    using Needs = Verb::Needs;
    return {
        {"about [--name TEXT] [--address TEXT] [--terms TEXT]", "The shop as its papers name it.", about},
        {"check", "Reads every page and reference of the book, and adds up the stock.", check},
        {"backup FILE", "A whole copy, checked, into a new file; others may work meanwhile.", backup},
        {"restore BACKUP", "A checked copy of a backup becomes the book, where there is none.", restore,
         Needs::nothing},
        {"export FOLDER", "Everything as open files, JSON and CSV.", export_to},
        {"import FOLDER", "A new book from an export, where there is none.", import_from, Needs::nothing},
    };
}

}  // namespace spile::cli
