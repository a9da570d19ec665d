#include "server/pages.h"

namespace spile::server {

const PageFile* page_file(std::string_view path) {
    if (path == "/") path = "/index.html";
    for (const PageFile* file = page_files; file->path; ++file) {
        if (path == file->path) return file;
    }
    return nullptr;
}

const char no_screens_page[] = R"(<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Spile</title>
<style>body{font:18px/1.5 Inter,sans-serif;max-width:40em;margin:3em auto;padding:0 1em;background:#f7f5ef;color:#18242f}</style>
<h1>Spile is running</h1>
<p>This program was built without its screens, so there is nothing to see here. The shop's book is open, and everything else
works: the commands of the program, and the API at <a href="/api/openapi.json">/api</a>.</p>
<p>To have the screens, build them first (see web/ in the source), then build the program again.</p>
</html>
)";

const char pairing_page[] = R"(<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Spile: pair this device</title>
<style>body{font:20px/1.5 Inter,sans-serif;max-width:24em;margin:3em auto;padding:0 1em;background:#f7f5ef;color:#18242f}
input,button{font:inherit;width:100%;box-sizing:border-box;padding:.6em;margin:.3em 0 1em;border:2px solid #18242f;border-radius:6px;
background:#fffdf8;color:inherit}button{background:#18242f;color:#fffdf8}#says{min-height:3em;color:#a33606;font-weight:600}</style>
<h1>Pair this device</h1>
<form id="pair"><label>The eight figures that the shop computer shows
<input name="code" inputmode="numeric" autocomplete="one-time-code" pattern="[0-9 ]*" required></label>
<label>A name for this device <input name="name" value="tablet" maxlength="60" required></label>
<button>Pair</button></form><p id="says" role="status"></p>
<script src="/pair.js"></script>
</html>
)";

}  // namespace spile::server
