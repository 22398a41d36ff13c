#include "server/store/schema.hpp"

#include <array>
#include <string>

namespace stanch::embedded {
std::string_view create_record_sql();
std::string_view count_versions_sql();
std::string_view add_hub_sql();
}  // namespace stanch::embedded

namespace stanch::server {

int schema_of(Database& database) { return std::stoi(database.value_of("PRAGMA user_version")); }

void bring_up_to_date(Database& database) {
  const std::array<std::string_view, schema_version> steps{embedded::create_record_sql(),
                                                           embedded::count_versions_sql(), embedded::add_hub_sql()};
  for (auto step = static_cast<std::size_t>(schema_of(database)); step < steps.size(); ++step)
    database.run(std::string(steps[step]));
}

}  // namespace stanch::server
