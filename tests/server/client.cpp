#include "tests/server/client.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdlib>

namespace stanch::server {

Client::Client(std::uint16_t port) : socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
  const timeval patience{5, 0};
  setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(port);
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  if (connect(socket_, reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0) {
    close(socket_);
    socket_ = -1;
  }
}

Client::~Client() {
  if (socket_ >= 0) close(socket_);
}

bool Client::send(std::string_view bytes) {
  while (!bytes.empty()) {
    const auto sent = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
    if (sent <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(sent));
  }
  return true;
}

std::size_t Client::read_some(char* into, std::size_t size) {
  const auto got = recv(socket_, into, size, 0);
  return got > 0 ? static_cast<std::size_t>(got) : 0;
}

bool Client::fill() {
  std::array<char, 65536> piece{};
  const std::size_t got = read_some(piece.data(), piece.size());
  buffer_.append(piece.data(), got);
  return got > 0;
}

Answer Client::receive() {
  Answer out;
  std::size_t head_end = 0;
  while ((head_end = buffer_.find("\r\n\r\n")) == std::string::npos)
    if (!fill()) return out;
  std::string head = buffer_.substr(0, head_end + 2);
  buffer_.erase(0, head_end + 4);
  out.status = std::atoi(head.substr(head.find(' ') + 1, 3).c_str());
  head.erase(0, head.find("\r\n") + 2);
  while (!head.empty()) {
    const std::string line = head.substr(0, head.find("\r\n"));
    head.erase(0, line.size() + 2);
    std::string name = line.substr(0, line.find(':'));
    std::ranges::transform(name, name.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    out.headers[name] = line.substr(line.find(':') + 2);
  }
  if (out.status == 100) return receive();
  if (!out.headers.contains("content-length")) return out;
  const std::size_t size = std::strtoul(out.headers["content-length"].c_str(), nullptr, 10);
  while (buffer_.size() < size)
    if (!fill()) break;
  out.body = buffer_.substr(0, size);
  buffer_.erase(0, size);
  return out;
}

std::string Client::read_until(std::string_view text) {
  while (buffer_.find(text) == std::string::npos)
    if (!fill()) break;
  const auto at = buffer_.find(text);
  const std::string out = buffer_.substr(0, at == std::string::npos ? at : at + text.size());
  buffer_.erase(0, out.size());
  return out;
}

bool Client::is_closed() {
  std::array<char, 4096> sink{};
  ssize_t got = 0;
  while ((got = recv(socket_, sink.data(), sink.size(), 0)) > 0) {
  }
  return got == 0;
}

Answer Client::ask(std::string_view method, std::string_view target, std::string_view body,
                   std::string_view header_lines) {
  std::string text = std::string(method) + " " + std::string(target) + " HTTP/1.1\r\nHost: ward\r\n";
  text += header_lines;
  if (!body.empty()) text += "Content-Length: " + std::to_string(body.size()) + "\r\n";
  text += "\r\n";
  text += body;  // in one piece: the kernel would hold a second one back until the first is acknowledged
  send(text);
  return receive();
}

}  // namespace stanch::server
