// server/web/asset.hpp
//
// The files of the web app, compiled in (cmake/web.cmake). None when the server was built without it.
#pragma once

#include <span>
#include <string_view>

namespace stanch::server {

struct Asset {
  std::string_view path;  ///< "/index.html"
  std::string_view type;
  std::string_view etag;  ///< quoted
  std::string_view plain;
  std::string_view gzip;    ///< empty where it saves nothing
  std::string_view brotli;  ///< empty where the build had no brotli
};

/// Sorted by path. Defined by the build.
[[nodiscard]] std::span<const Asset> assets();

}  // namespace stanch::server
