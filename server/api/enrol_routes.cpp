// Enrolling a device, and the list of those that are.
#include <utility>

#include "server/api/answers.hpp"
#include "server/api/api.hpp"
#include "server/clock.hpp"
#include "stanch/base/sha256.hpp"

namespace stanch::server {
namespace {

constexpr std::string_view enrol_route = "/api/enrol";
constexpr std::size_t max_name_characters = 200;  // as of an entry's `from`

Response wrong_code(Enrolment::Answer answer) {
  Response out =
      answer == Enrolment::Answer::wait
          ? refusal(429, "server.enrolment_paused",
                    "There were too many wrong codes; wait a minute, then enter the new code that the server shows.")
          : refusal(403, "server.wrong_code",
                    "This code is not right; enter the six digits that the server shows now.");
  if (answer == Enrolment::Answer::wait) out.headers.emplace_back("Retry-After", "60");
  out.route = enrol_route;
  return out;
}

}  // namespace

void Api::enrol(const Request& request, const Reply& reply) {
  const auto body = parse_json(request.body);
  if (!body) return reply(problem_answer(enrol_route, body.error()));
  if (!body->is_object())
    return reply(refusal(400, "server.not_an_object", "The body must be {\"code\":...,\"device\":...}."));
  const auto code = text_field(*body, "code", 20);
  if (!code) return reply(problem_answer(enrol_route, code.error()));
  const auto device_name = text_field(*body, "device", max_name_characters);
  if (!device_name) return reply(problem_answer(enrol_route, device_name.error()));
  const auto answer = enrolment_.try_code(*code, request.arrived);
  if (answer != Enrolment::Answer::right) {
    log_.write("enrolment_refused", {{"peer", std::string_view(request.peer)}});
    return reply(wrong_code(answer));
  }
  // A device that comes back without its token calls itself by the id it had, and keeps it: its entries carry that id.
  const std::string id = enrolment_.knows(*device_name) ? *device_name : to_text(fresh_id());
  const std::string token = unguessable_token();
  const Device device{id, *device_name, sha256_hex(token), request.arrived};
  store_.add_device(device, [this, device, token, reply](const std::optional<StoreError>& error) {
    if (error) return reply(store_answer(enrol_route, *error));
    enrolment_.admit(device);
    log_.write("enrolled", {{"device", std::string_view(device.id)}});
    reply(json_answer(enrol_route, Json{{"device", device.id},
                                        {"token", token},
                                        {"record", to_text(store_.record())},
                                        {"practice", store_.purpose() == Purpose::practice}}));
  });
}

Response Api::enrolment_code(const Request& request) {
  return json_answer("/api/enrolment", Json{{"code", enrolment_.code(request.arrived)}});
}

Response Api::list_devices() {
  const auto devices = store_.devices();
  if (!devices) return store_answer("/api/devices", devices.error());
  Json list = Json::array();
  for (const Device& device : *devices)
    list.push_back({{"device", device.id}, {"name", device.name}, {"enrolled_at", to_text(device.enrolled)}});
  return json_answer("/api/devices", Json{{"devices", std::move(list)}});
}

void Api::remove_device(const std::string& id, const Reply& reply) {
  store_.remove_device(id, [this, id, reply](const std::optional<StoreError>& error) {
    if (error) return reply(store_answer("/api/devices/{id}", *error));
    enrolment_.forget(id);
    log_.write("device_removed", {{"device", std::string_view(id)}});
    reply(json_answer("/api/devices/{id}", Json{{"removed", id}}));
  });
}

}  // namespace stanch::server
