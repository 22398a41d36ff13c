// server/web/web_app.hpp
//
// Serves the web app from memory: the smallest form that the browser takes, and nothing at all when it has it already.
#pragma once

#include "server/http/message.hpp"

namespace stanch::server {

/// Only files that the build listed can be asked for; any other path without an extension is one of the app's own
/// screens and gives index.html.
[[nodiscard]] Response web_answer(const Request& request);

}  // namespace stanch::server
