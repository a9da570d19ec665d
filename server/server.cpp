#include "server/server.h"

#include <algorithm>
#include <thread>

#include "core/base/stop.h"
#include "core/layout/solve/solve.h"
#include "server/inside.h"
#include "server/listener.h"
#include "shop/put_back.h"
#include "shop/settings.h"

namespace spile::server {
namespace {

using Started = Result<std::unique_ptr<Server>>;

Finding port_taken(int port) {
    return stop_finding("port-taken",
                        "Port " + std::to_string(port) + " is in use: Spile may be running already.",
                        "Look at the address it printed then, or choose another with --port.", {"shop", ""},
                        {{"port", static_cast<double>(port), ""}});
}

std::string setting_of(shop::Store& store, const char* name) {
    const Result<std::optional<std::string>> kept = shop::read_setting(store, name);
    return kept && *kept ? **kept : "";
}

/// The certificate of last time when it still fits, so that devices need not be told of a new one.
Result<Certificate> certificate_for(Book& book, const std::vector<std::string>& names) {
    const std::string kept = book.with([](shop::Store& s) { return setting_of(s, "certificate"); });
    const nlohmann::json json = nlohmann::json::parse(kept, nullptr, false);
    if (json.is_object()) {
        std::optional<Certificate> old =
            read_certificate(json.value("certificate", ""), json.value("key", ""), names);
        if (old) return Result<Certificate>::ok(std::move(*old));
    }
    Result<Certificate> made = make_certificate(names);
    if (!made) return made;
    const nlohmann::json keep = {{"certificate", made->certificate_pem}, {"key", made->key_pem}};
    const auto kept_now =
        book.with([&](shop::Store& s) { return shop::write_setting(s, "certificate", keep.dump()); });
    if (!kept_now) return {std::nullopt, kept_now.findings};
    return made;
}

/// The job to open is added unless a job of the book began with the same document.
std::vector<Finding> open_job(Book& book, const std::string& text) {
    const Result<Job> job = read_job(text);
    if (!job) return job.findings;
    const std::string document = write_said(settled_form(job->said));
    const auto heads = book.with([&](shop::Store& s) {
        shop::JobQuery query;
        query.limit = 1000;
        return shop::find_jobs(s, query);
    });
    if (!heads) return heads.findings;
    for (const shop::JobHead& head : *heads) {
        const auto first = book.with([&](shop::Store& s) { return shop::read_revision(s, head.id, 1); });
        if (first && first->document == document) return {};
    }
    const auto added = book.add(text, "this computer");
    return added ? std::vector<Finding>{} : added.findings;
}

}  // namespace

Server::Inside::Inside() = default;
Server::Inside::~Inside() = default;

Result<std::unique_ptr<shop::Store>> Server::Inside::own_store() const {
    shop::OpenOptions open;
    open.check = false;  // done when the server began
    Result<shop::Store> store = shop::Store::open(options.book, open);
    if (!store) return {std::nullopt, std::move(store.findings)};
    return Result<std::unique_ptr<shop::Store>>::ok(std::make_unique<shop::Store>(std::move(*store)));
}

shop::SolverFor Server::Inside::solvers() {
    return [](const Job& job) -> LayoutSolver {
        SolveOptions solve;
        solve.threads = static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1u, 8u));
        solve.places_mm = places_step_mm(lengths_of(job));
        return [solve, lengths = lengths_of(job)](const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                                  const RunContext& run) {
            return solve_layout(pieces, goods, solve, run, lengths);
        };
    };
}

void Server::Inside::tell_revision(const shop::JobHead& head, const std::string& who,
                                   const std::string& why) {
    news.tell({head.id, "revision", {{"rev", head.rev}, {"op_id", ""}, {"by", who}, {"why", why}}});
}

void Server::Inside::tell_of_book() {
    // Of its revisions and searches a job has news of its own; a question changes nothing.
    constexpr std::string_view silent[] = {"/edits", "/undo", "/layout", "/cost",
                                           "/try",   "/look", "/ask",    "/pair"};
    for (Route& route : routes) {
        const std::string_view path = route.path;
        if (std::string_view(route.method) == "GET" ||
            std::any_of(std::begin(silent), std::end(silent),
                        [path](std::string_view end) { return path.ends_with(end); }))
            continue;
        route.answer = [this, answer = std::move(route.answer)](const Asked& asked) {
            Reply reply = answer(asked);
            if (reply.status < 300) news.tell({0, "book", Json::object()});
            return reply;
        };
    }
}

Result<std::unique_ptr<Server>> Server::start(const ServeOptions& options) {
    auto inside = std::make_unique<Inside>();
    inside->options = options;
    const Result<std::string> put_back = shop::put_back_as_asked(options.book);
    if (put_back) inside->put_back = *put_back;
    for (const Finding& f : put_back.findings) inside->put_back += f.says + ' ' + f.to_do;
    Result<std::unique_ptr<Book>> book = Book::open(options.book, inside->news);
    if (!book) return {std::nullopt, std::move(book.findings)};
    inside->book = std::move(*book);
    if (!options.open_job.empty()) {
        std::vector<Finding> faults = open_job(*inside->book, options.open_job);
        if (!faults.empty()) return {std::nullopt, std::move(faults)};
    }
    Inside& in = *inside;
    in.life = in.book->with([](shop::Store& s) { return shop::life_of(s).value.value_or(""); });
    in.sessions = std::make_unique<Sessions>(
        in.book->with([](shop::Store& s) { return setting_of(s, "sessions"); }),
        [&in](const std::string& json) {
            in.book->with([&json](shop::Store& s) { return shop::write_setting(s, "sessions", json); });
        });
    in.searches = std::make_unique<Searches>(in.news);
    in.session_routes();
    in.job_routes();
    in.layout_routes();
    in.paper_routes();
    in.stock_routes();
    in.money_routes();
    in.people_routes();
    in.repeat_routes();
    in.safe_routes();
    in.record_routes();
    in.drawing_routes();
    in.other_routes();
    in.tell_of_book();

    in.local = std::make_unique<Listener>(
        Listener::Setting{true, options.port, {"127.0.0.1", "localhost"}, nullptr}, in.routes, *in.sessions);
    if (!in.local->bind()) return Started::refuse(port_taken(options.port));
    in.options.port = in.local->port();
    if (options.lan) {
        in.lan_hosts = lan_names();
        Result<Certificate> certificate = certificate_for(*in.book, in.lan_hosts);
        if (!certificate) return {std::nullopt, std::move(certificate.findings)};
        in.certificate = std::move(*certificate);
        in.pairing = std::make_unique<Pairing>(options.tell);
        std::vector<std::string> hosts = in.lan_hosts;
        hosts.insert(hosts.end(), {"127.0.0.1", "localhost"});
        in.lan = std::make_unique<Listener>(
            Listener::Setting{false, options.lan_port, std::move(hosts), &*in.certificate}, in.routes,
            *in.sessions);
        if (!in.lan->bind()) return Started::refuse(port_taken(options.lan_port));
        in.options.lan_port = in.lan->port();
    }
    return Started::ok(std::unique_ptr<Server>(new Server(std::move(inside))));
}

Server::Server(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Server::~Server() = default;

int Server::port() const {
    return inside_->options.port;
}
int Server::lan_port() const {
    return inside_->lan ? inside_->options.lan_port : 0;
}
std::string Server::address() const {
    return "http://127.0.0.1:" + std::to_string(port()) + "/";
}
std::vector<std::string> Server::lan_addresses() const {
    std::vector<std::string> addresses;
    for (const std::string& host : inside_->lan_hosts)
        addresses.push_back("https://" + host + ":" + std::to_string(inside_->options.lan_port) + "/");
    return addresses;
}
std::string Server::fingerprint() const {
    return inside_->certificate ? inside_->certificate->fingerprint : "";
}
std::string Server::pairing_code() const {
    return inside_->pairing ? inside_->pairing->code() : "";
}

void Server::run() {
    std::thread lan;
    if (inside_->lan) lan = std::thread([this] { inside_->lan->run(); });
    inside_->local->run();
    if (lan.joinable()) lan.join();
}

void Server::Inside::stop() {
    news.end();
    searches->end();
    local->stop();
    if (lan) lan->stop();
}

void Server::stop() {
    inside_->stop();
}

bool Server::wants_to_start_again() const {
    return inside_->again;
}

}  // namespace spile::server
