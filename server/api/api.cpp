#include "server/api/api.hpp"

#include <nlohmann/json.hpp>
#include <utility>

#include "server/api/answers.hpp"
#include "server/clock.hpp"
#include "server/web/web_app.hpp"

namespace stanch::server {
namespace {

constexpr std::string_view case_prefix = "/api/cases/";
constexpr std::string_view case_suffix = ".ndjson";
constexpr std::string_view device_prefix = "/api/devices/";

bool is_reading(const Request& request) { return request.method == "GET" || request.method == "HEAD"; }

Response not_allowed(std::string_view route, std::string_view allowed) {
  Response out = refusal(405, "server.method_not_allowed", "This address answers " + std::string(allowed) + " only.");
  out.route = route;
  out.headers.emplace_back("Allow", std::string(allowed));
  return out;
}

std::string token_of(const std::string& authorization) {
  constexpr std::string_view scheme = "Bearer ";
  return authorization.starts_with(scheme) ? authorization.substr(scheme.size()) : std::string();
}

}  // namespace

std::uint64_t Api::body_limit(std::string_view method, std::string_view target) const {
  const bool is_batch = method == "POST" && target.substr(0, target.find('?')) == "/api/entries";
  return is_batch ? max_batch_bytes : max_small_body_bytes;
}

void Api::answer(Request request, Reply reply) {
  const std::string& path = request.path;
  if (path == "/health") return reply(is_reading(request) ? health() : not_allowed("/health", "GET"));
  if (!path.starts_with("/api/")) return reply(is_reading(request) ? web_answer(request) : not_allowed("/", "GET"));
  if (path == "/api/enrol") {
    if (request.method != "POST") return reply(not_allowed("/api/enrol", "POST"));
    return enrol(request, reply);
  }
  const auto device = enrolment_.device_of(token_of(request.authorization));
  if (!device) {
    Response out = refusal(401, "server.not_enrolled",
                           request.authorization.empty()
                               ? "This device is not enrolled here: enter the six digits that the server shows."
                               : "This device's token is not known here: enrol it again with the six digits that the "
                                 "server shows.");
    out.headers.emplace_back("WWW-Authenticate", "Bearer");
    return reply(std::move(out));
  }
  answer_enrolled(request, *device, reply);
}

void Api::answer_enrolled(const Request& request, const Device& device, const Reply& reply) {
  const std::string& path = request.path;
  const bool reading = is_reading(request);
  const bool posting = request.method == "POST";
  if (path == "/api/entries") {
    if (posting) return take_entries(request, device, reply);
    return reply(reading ? list_entries(request) : not_allowed("/api/entries", "GET, POST"));
  }
  if (path == "/api/people") {
    if (posting) return add_person(request, reply);
    return reply(reading ? list_people() : not_allowed("/api/people", "GET, POST"));
  }
  if (path == "/api/live") return reply(reading ? live(request) : not_allowed("/api/live", "GET"));
  if (path == "/api/enrolment") return reply(reading ? enrolment_code(request) : not_allowed("/api/enrolment", "GET"));
  if (path == "/api/devices") return reply(reading ? list_devices() : not_allowed("/api/devices", "GET"));
  if (path.starts_with(device_prefix)) {
    if (request.method != "DELETE") return reply(not_allowed("/api/devices/{id}", "DELETE"));
    return remove_device(path.substr(device_prefix.size()), reply);
  }
  if (path.starts_with(case_prefix) && path.ends_with(case_suffix) &&
      path.size() > case_prefix.size() + case_suffix.size()) {
    if (!reading) return reply(not_allowed("/api/cases/{id}.ndjson", "GET"));
    return reply(case_file(path.substr(case_prefix.size(), path.size() - case_prefix.size() - case_suffix.size())));
  }
  reply(refusal(404, "server.no_such_address", "There is no such address here."));
}

Response Api::health() const {
  const std::int64_t cursor = store_.cursor();
  Json body{{"status", "ok"},
            {"version", STANCH_VERSION},
            {"entries", cursor},
            {"cursor", cursor},
            {"commits", store_.commits()},
            {"record", to_text(store_.record())},
            {"practice", store_.purpose() == Purpose::practice},
            {"clock", to_text(now())}};
  if (hub_ != nullptr) {
    const HubStanding hub = hub_->standing();
    body["hub"] = {{"in_step", hub.in_step},
                   {"why_not", hub.why_not},
                   {"last", hub.last ? Json(to_text(*hub.last)) : Json(nullptr)},
                   {"clock_ahead_ms", hub.clock_ahead}};
  }
  return json_answer("/health", body);
}

}  // namespace stanch::server
