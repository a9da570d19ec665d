// All that the routes share. Inside of server/.
#pragma once

#include <atomic>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "server/book.h"
#include "server/certificate.h"
#include "server/news.h"
#include "server/papers_of.h"
#include "server/reply.h"
#include "server/searches.h"
#include "server/server.h"
#include "server/sessions.h"
#include "shop/attachments.h"
#include "shop/sending.h"

namespace spile::server {

class Listener;

struct Server::Inside {
    ServeOptions options;
    News news;
    std::unique_ptr<Book> book;
    std::unique_ptr<Searches> searches;
    PapersOf papers;
    std::mutex filling;  ///< fillers are put beside one layout at a time: it takes a processor a while
    StreamCount streams{kMostStreams, kMostStreamsOfOne};
    std::unique_ptr<Sessions> sessions;
    std::unique_ptr<Pairing> pairing;  ///< with --lan
    std::optional<Certificate> certificate;
    std::string put_back;            ///< what became of a backup that was to take the place of the book
    std::string life;                ///< of the book, shop/put_back.h
    std::atomic<bool> again{false};  ///< to be started again once it has ended
    std::vector<std::string> lan_hosts;
    std::vector<Route> routes;
    std::unique_ptr<Listener> local, lan;

    Inside();
    ~Inside();
    Inside(const Inside&) = delete;
    Inside& operator=(const Inside&) = delete;

    // Each adds its routes.
    void session_routes();
    void job_routes();
    void layout_routes();
    void paper_routes();
    void stock_routes();
    void money_routes();
    void people_routes();
    void repeat_routes();
    void safe_routes();
    void record_routes();
    void backup_routes();
    void drawing_routes();
    void other_routes();

    /// From here on every route that changes what the shop keeps tells the pages that show it.
    void tell_of_book();

    /// A connection of a request's own, so that what takes its time keeps nobody from the book.
    Result<std::unique_ptr<shop::Store>> own_store() const;
    static shop::SolverFor solvers();
    /// A file of the job that is asked for.
    Result<shop::AttachmentHead> attachment_of(const Asked& asked);
    /// Ends streams and searches, lets answers in the making go out.
    void stop();
    /// A revision that came about without an edit.
    void tell_revision(const shop::JobHead& head, const std::string& who, const std::string& why);
};

}  // namespace spile::server
