// spile shop: the shop's book from the command line.
#include <algorithm>
#include <ctime>
#include <filesystem>

#include "cli/book_place.h"
#include "cli/commands.h"
#include "cli/json_output.h"
#include "cli/load.h"
#include "cli/shop_call.h"
#include "cli/terminal.h"
#include "core/base/text.h"

namespace spile::cli {
namespace {

const std::vector<Verb>& verbs() {
    static const std::vector<Verb> all = [] {
        std::vector<Verb> list;
        for (const auto& part :
             {people_verbs(), job_verbs(), stock_verbs(), money_verbs(), repeat_verbs(), safe_verbs()})
            list.insert(list.end(), part.begin(), part.end());
        list.push_back({"script FILE", "Runs the commands of a file, one a line, until one is refused.",
                        nullptr, Verb::Needs::nothing});
        return list;
    }();
    return all;
}

constexpr const char* kHead =
    R"(The shop's book: customers, boats, jobs, goods, rolls, offcuts, papers, money, hours.

  spile shop COMMAND ... [--data FOLDER] [--by NAME] [--today DAY] [--units in|mm] [--json]

--data is the folder of the book, else the usual one; the first "add" makes it.
--today writes down what was done on another day. Words of more than one part stand in quotes.

)";

/// Usage and meaning of the commands that begin with `word`; of all without one.
std::string help_text(const std::string& word, int width) {
    std::string text = word.empty() ? kHead : "";
    for (const Verb& verb : verbs()) {
        if (!word.empty() && split_words(verb.usage).front() != word) continue;
        text += wrapped("  ", verb.usage, 6, width);
        text += wrapped("", verb.says, 8, width);
    }
    return text;
}

/// What stands before, between or behind the words of a command and holds for all of them.
struct Common {
    std::string book, by = "this computer", today;
    Unit unit = Unit::inch;
    bool json = false, help = false;
    std::vector<std::string> words;
    std::vector<Finding> faults;
};

Common common_of(const std::vector<std::string>& arguments) {
    Common c;
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& word = arguments[i];
        const auto value = [&]() -> std::string {
            if (i + 1 < arguments.size()) return arguments[++i];
            c.faults.push_back(refusal("not-understood", word + " needs something behind it.", "Give it."));
            return "";
        };
        if (word == "--json") {
            c.json = true;
        } else if (word == "--help" || word == "-h") {
            c.help = true;
        } else if (word == "--data") {
            c.book = value();
        } else if (word == "--by") {
            c.by = value();
        } else if (word == "--today") {
            c.today = value();
            append(c.faults, shop::parse_date(c.today).findings);
        } else if (word == "--units") {
            const std::string unit = value();
            c.unit = unit == "mm" ? Unit::mm : Unit::inch;
            if (unit != "mm" && unit != "in")
                c.faults.push_back(refusal("not-understood", "Units are in or mm.", "Name one of the two."));
        } else {
            c.words.push_back(word);
        }
    }
    return c;
}

/// The verb that the words begin with, the longest name winning.
const Verb* verb_of(const std::vector<std::string>& words, std::size_t& taken) {
    const Verb* found = nullptr;
    taken = 0;
    for (const Verb& verb : verbs()) {
        const std::vector<std::string> name = split_words(name_of(verb));
        if (name.size() > words.size() || name.size() <= taken) continue;
        if (!std::equal(name.begin(), name.end(), words.begin())) continue;
        found = &verb;
        taken = name.size();
    }
    return found;
}

/// Whether the command may make a book where there is none: a slip in --data must not look like an empty shop.
bool begins_a_book(const Verb& verb) {
    const std::string last = split_words(name_of(verb)).back();
    return last == "add" || last == "about" || verb.needs == Verb::Needs::nothing;
}

/// Noon of the day that counts as today, else the machine's clock.
shop::Seconds clock_of(const std::string& today) {
    const Result<shop::Seconds> day = shop::parse_date(today);
    return day ? *day + 12 * 3600 : static_cast<shop::Seconds>(std::time(nullptr));
}

class Session {
  public:
    explicit Session(const Common& common) : common_(common), today_(common.today) {
        path_ = book_in(common.book).string();
    }

    Result<Said> run(const std::vector<std::string>& words) {
        std::size_t taken = 0;
        const Verb* verb = verb_of(words, taken);
        if (!verb || !verb->run) {
            const std::string word = words.empty() ? "" : words.front().substr(0, 60);
            return Result<Said>::refuse(refusal("not-understood",
                                                "There is no command \"spile shop " + word + "\" like this.",
                                                "spile shop --help names them all."));
        }
        Result<Call> call =
            Call::parse(*verb, {words.begin() + static_cast<long>(taken), words.end()}, common_.unit);
        if (!call) return {std::nullopt, std::move(call.findings)};
        if (begins_a_book(*verb)) {
            std::error_code ignored;  // what cannot be made is refused when the book is opened
            std::filesystem::create_directories(std::filesystem::path(path_).parent_path(), ignored);
        }
        if (verb->needs == Verb::Needs::book) {
            const Result<shop::Done> opened = open(begins_a_book(*verb));
            if (!opened) return {std::nullopt, opened.findings};
            call->store = &*store_;
        }
        call->book = path_;
        call->by = common_.by;
        call->day = shop::date_of(clock_of(today_));
        call->style.unit = common_.unit;
        return verb->run(*call);
    }

    Result<shop::Done> open(bool create) {
        if (store_) return Result<shop::Done>::ok({});
        shop::OpenOptions options;
        options.create = create;
        options.now = [this] { return clock_of(today_); };
        Result<shop::Store> store = shop::Store::open(path_, options);
        if (!store) return {std::nullopt, std::move(store.findings)};
        store_.emplace(std::move(*store));
        return Result<shop::Done>::ok({});
    }

    /// From here on it is that day.
    Result<Said> set_day(const std::string& day) {
        const Result<shop::Seconds> read = shop::parse_date(day);
        if (!read) return {std::nullopt, read.findings};
        today_ = day;
        return Result<Said>::ok({Json{{"today", day}}});
    }

  private:
    const Common& common_;
    std::string today_, path_;
    std::optional<shop::Store> store_;
};

/// Words parted by blanks; what stands in double quotes is one word, with \" and \\ inside.
Result<std::vector<std::string>> words_of_line(const std::string& line, std::size_t number) {
    std::vector<std::string> words;
    bool inside = false, any = false;
    std::string word;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (inside && c == '\\' && i + 1 < line.size()) {
            word += line[++i];
        } else if (c == '"') {
            inside = !inside;
            any = true;
        } else if (!inside && (c == ' ' || c == '\t' || c == '\r')) {
            if (any) words.push_back(word);
            word.clear();
            any = false;
        } else {
            word += c;
            any = true;
        }
    }
    if (inside)
        return Result<std::vector<std::string>>::refuse(refusal(
            "not-understood", "Line " + std::to_string(number) + ": a quote is not closed.", "Close it."));
    if (any) words.push_back(word);
    return Result<std::vector<std::string>>::ok(std::move(words));
}

Exit end_of(const std::vector<Finding>& findings) {
    for (const Finding& f : findings)
        if (f.code == "not-understood" || f.code == "file-not-read" || f.code.rfind("shop-", 0) == 0)
            return not_read;
    return stopped;
}

Exit answer(const Common& common, const Result<Said>& said, const LengthStyle& style) {
    const std::string findings = findings_text(said.findings, terminal_width());
    complain(findings);
    if (!said) {
        if (common.json && !print(findings_json(said.findings))) return not_read;
        return end_of(said.findings);
    }
    if (common.json) return print(document_text(said->json)) ? all_well : not_read;
    if (said->as_is) return print(said->text) ? all_well : not_read;
    return print(said->text.empty() ? readable(said->json, style) : said->text) ? all_well : not_read;
}

/// One document of all answers; the first refusal ends it and what was done before stays.
Exit run_script(const Common& common, const std::string& path) {
    const Result<std::string> text = file_text(path, "a script");
    LengthStyle style;
    style.unit = common.unit;
    if (!text) return answer(common, {std::nullopt, text.findings}, style);
    Session session(common);
    Json answers = Json::array();
    std::size_t number = 0, at = 0;
    std::vector<Finding> findings;
    Exit exit = all_well;
    while (at < text->size() && exit == all_well) {
        const std::size_t end = std::min(text->find('\n', at), text->size());
        const std::string line(trimmed(std::string_view(*text).substr(at, end - at)));
        at = end + 1;
        ++number;
        if (line.empty() || line[0] == '#') continue;
        const Result<std::vector<std::string>> words = words_of_line(line, number);
        Result<Said> said{std::nullopt, words.findings};
        if (words && words->size() == 2 && words->front() == "today")
            said = session.set_day(words->back());
        else if (words)
            said = session.run(*words);
        for (Finding& f : said.findings)
            f.where = "line " + std::to_string(number) + ": " + line.substr(0, 200);
        if (said) answers.push_back(std::move(said->json));
        if (!said) exit = end_of(said.findings);
        append(findings, std::move(said.findings));
    }
    complain(findings_text(findings, terminal_width()));
    const std::string said = common.json ? document_text(Json{{"lines", number}, {"answers", answers}})
                                         : count_of(answers.size(), "command", "commands") + " done.\n";
    return print(said) ? exit : not_read;
}

}  // namespace

Exit shop_book(const std::vector<std::string>& arguments) {
    const Common common = common_of(arguments);
    const int width = terminal_width();
    if (common.words.empty() || common.help) {
        const std::string help = help_text(common.words.empty() ? "" : common.words.front(), width);
        return print(help.empty() ? help_text("", width) : help) ? all_well : not_read;
    }
    LengthStyle style;
    style.unit = common.unit;
    if (!common.faults.empty()) return answer(common, {std::nullopt, common.faults}, style);
    if (common.words.front() == "script" && common.words.size() == 2)
        return run_script(common, common.words[1]);
    Session session(common);
    return answer(common, session.run(common.words), style);
}

}  // namespace spile::cli
