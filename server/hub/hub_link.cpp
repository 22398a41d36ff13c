#include "server/hub/hub_link.hpp"

#include <algorithm>
#include <boost/system/system_error.hpp>
#include <chrono>
#include <future>
#include <utility>

#include "server/clock.hpp"
#include "server/hub/ward_record.hpp"

namespace stanch::server {
namespace {

using std::chrono::milliseconds;

constexpr milliseconds gather{200};        // what is written together goes together
constexpr milliseconds look_again{5000};   // for what others wrote
constexpr milliseconds most_wait{60'000};  // between tries while the hub is away

}  // namespace

tl::expected<std::unique_ptr<HubLink>, std::string> HubLink::start(HubOptions options, Store& store, Bell& bell,
                                                                   Log& log, const record::TimeLimits& limits) {
  auto address = HubAddress::parse(options.address);
  if (!address) return tl::unexpected(address.error());
  std::unique_ptr<HttpLine> line;
  try {
    line = std::make_unique<HttpLine>(*address, options.authority);
  } catch (const boost::system::system_error& error) {
    return tl::unexpected("The hub's authority " + options.authority + " can't be read: " + error.code().message() +
                          ".");
  }
  const auto known = store.hub(options.address);
  if (!known) return tl::unexpected("The record can't be read: " + known.error().reason + ".");
  if (!*known && options.code.empty())
    return tl::unexpected("This ward has not joined the hub at " + options.address +
                          " yet: start once with --hub-code and the six digits that the hub shows.");
  Hub hub = known->value_or(Hub{options.address, "", {}});
  return std::unique_ptr<HubLink>(
      new HubLink(std::move(options), std::move(line), std::move(hub), store, bell, log, limits));
}

HubLink::HubLink(HubOptions options, std::unique_ptr<HttpLine> line, Hub hub, Store& store, Bell& bell, Log& log,
                 const record::TimeLimits& limits)
    : options_(std::move(options)),
      line_(std::move(line)),
      hub_(std::move(hub)),
      store_(store),
      bell_(bell),
      log_(log),
      limits_(limits) {
  line_->use(hub_.token);
  seat_ = bell_.join([this] {
    {
      const std::scoped_lock lock(mutex_);
      rung_ = true;
    }
    wake_.notify_one();
  });
  thread_ = std::thread([this] { loop(); });
}

void HubLink::stop() {
  if (!thread_.joinable()) return;
  bell_.leave(seat_);
  {
    const std::scoped_lock lock(mutex_);
    stopping_ = true;
  }
  wake_.notify_one();
  thread_.join();
}

HubStanding HubLink::standing() const {
  const std::scoped_lock lock(mutex_);
  return standing_;
}

void HubLink::loop() {
  while (true) {
    const auto wait = round();
    std::unique_lock lock(mutex_);
    const bool may_be_rung = failures_ == 0;  // a hub that is away is not asked at each entry
    if (wait) {
      wake_.wait_for(lock, *wait, [&] { return stopping_ || (rung_ && may_be_rung); });
    } else {
      wake_.wait(lock, [this] { return stopping_; });
    }
    if (!stopping_ && rung_ && may_be_rung) wake_.wait_for(lock, gather, [this] { return stopping_; });
    if (stopping_) return;
    rung_ = false;
  }
}

std::optional<milliseconds> HubLink::round() {
  if (hub_.token.empty() && !enrol()) {
    if (line_->was_refused()) return std::nullopt;  // the same code again would only close enrolment for others
    return std::min(most_wait, milliseconds(1000) * (1 << std::min(failures_, 6)));
  }
  WardRecord ward(store_, hub_, limits_);
  const auto done = exchange(ward, *line_);
  if (const auto place = ward.place()) hub_.place = *place;
  if (!done) {
    failed(done.error());
    return std::min(most_wait, milliseconds(1000) * (1 << std::min(failures_, 6)));
  }
  failures_ = 0;
  if (done->sent + done->received + done->refused > 0)
    log_.write("hub_exchange", {{"sent", static_cast<std::int64_t>(done->sent)},
                                {"received", static_cast<std::int64_t>(done->received)},
                                {"refused", static_cast<std::int64_t>(done->refused)}});
  const std::scoped_lock lock(mutex_);
  standing_ = {true, "", now(), done->clock_ahead};
  return look_again;
}

bool HubLink::enrol() {
  const auto enrolled = line_->enrol(options_.code, to_text(store_.record()));
  if (!enrolled) {
    failed(enrolled.error());
    return false;
  }
  hub_.token = enrolled->token;
  std::promise<std::optional<StoreError>> kept;
  store_.keep_hub(hub_, [&kept](const std::optional<StoreError>& error) { kept.set_value(error); });
  if (const auto error = kept.get_future().get()) {
    failed("The hub's token can't be stored: " + error->reason + ".");
    hub_.token.clear();
    return false;
  }
  log_.write("hub_joined", {});
  return true;
}

void HubLink::failed(const std::string& why) {
  if (failures_++ == 0) log_.write("hub_away", {{"why", std::string_view(why)}});
  const std::scoped_lock lock(mutex_);
  standing_.in_step = false;
  standing_.why_not = why;
}

}  // namespace stanch::server
