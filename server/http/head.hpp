// server/http/head.hpp
//
// What goes before an answer's body: the status line and the header fields.
#pragma once

#include <cstddef>
#include <string>

#include "server/http/message.hpp"

namespace stanch::server {

/// Ends with the empty line. With 304 no length is told.
/// @param size       bytes of the body that follows; not told when it comes in chunks
/// @param is_chunked how a live stream is sent to those who know HTTP/1.1
[[nodiscard]] std::string head_of(const Response& response, std::size_t size, bool keeps_alive, bool is_chunked);

}  // namespace stanch::server
