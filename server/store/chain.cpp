#include "server/store/chain.hpp"

#include "stanch/base/sha256.hpp"

namespace stanch::server {

std::string next_link(std::string_view previous, const ChainedRow& row) {
  std::string text;
  text.reserve(previous.size() + row.device.size() + row.bytes.size() + 48);
  text.append(previous).append("\n").append(row.device).append("\n");
  text.append(std::to_string(row.received_ms)).append("\n");
  if (row.skew_ms) text.append(std::to_string(*row.skew_ms));
  text.append("\n").append(row.bytes);
  return sha256_hex(text);
}

}  // namespace stanch::server
