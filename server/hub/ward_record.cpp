#include "server/hub/ward_record.hpp"

#include <future>

#include "server/api/answers.hpp"
#include "server/api/intake.hpp"
#include "server/clock.hpp"

namespace stanch::server {
namespace {

constexpr std::size_t batch_entries = 1000;

/// Under whose name the record keeps what that hub sent.
std::string sender_of(const std::string& hub_record) { return "hub:" + hub_record; }

}  // namespace

tl::expected<void, std::string> WardRecord::keep(const HubPlace& place) {
  hub_.place = place;
  std::promise<std::optional<StoreError>> kept;
  store_.keep_hub(hub_, [&kept](const std::optional<StoreError>& error) { kept.set_value(error); });
  if (const auto error = kept.get_future().get()) return tl::unexpected(error->reason);
  return {};
}

tl::expected<Lines, std::string> WardRecord::to_send(const std::string& hub_record, std::int64_t after) {
  const auto page = store_.entries_not_from(sender_of(hub_record), after, batch_entries);
  if (!page) return tl::unexpected(page.error().reason);
  Lines lines{{}, page->entries.size(), page->cursor, page->more};
  for (const StoredEntry& stored : page->entries) lines.ndjson.append(handed_out(stored)).append("\n");
  return lines;
}

tl::expected<Taken, std::string> WardRecord::take(const std::string& hub_record, const std::string& ndjson,
                                                  std::int64_t clock_ahead) {
  const Moment received = now();
  ReadBatch batch =
      read_batch(ndjson, {sender_of(hub_record), "", Duration::milliseconds(clock_ahead), received, limits_, true});
  Taken taken{batch.refused.size(), clock_ahead};
  std::promise<std::optional<StoreError>> stored;
  store_.take(std::move(batch.entries), sender_of(hub_record), received,
              [&stored](const IntakeResult& result) { stored.set_value(result.error); });
  if (const auto error = stored.get_future().get()) return tl::unexpected(error->reason);
  return taken;
}

}  // namespace stanch::server
