#include "work/bank.hpp"

#include <cstdlib>
#include <filesystem>
#include <map>
#include <mutex>

#include "disk/disk.hpp"

namespace drawdown::work {

namespace {

namespace fs = std::filesystem;
constexpr std::size_t most_bytes = std::size_t{200} * 1000 * 1000;
constexpr const char* beginning = "people-";
constexpr const char* ending = ".bank";

// Of another body, other priors or another number: nobody asks for it again.
void forget_others(const fs::path& folder, const fs::path& kept) {
  std::error_code code;
  for (const auto& entry : fs::directory_iterator(folder, code)) {
    const std::string name = entry.path().filename().string();
    const bool ours = name.rfind(beginning, 0) == 0 && entry.path().extension() == ending;
    std::error_code of_entry;
    if (ours && entry.path() != kept && entry.is_regular_file(of_entry)) fs::remove(entry.path(), of_entry);
  }
}

std::optional<study::explain::Bank> from_disk(const fs::path& path, const study::explain::BankOptions& options) {
  try {
    const auto bytes = disk::read_file_if_there(path.string(), most_bytes);
    if (bytes) return study::explain::bank_of(*bytes, options);
  } catch (const std::runtime_error&) {  // too large, not to be read: it is made anew
  }
  return std::nullopt;
}

void to_disk(const fs::path& path, const study::explain::Bank& bank, const study::explain::BankOptions& options) {
  if (!disk::make_private_folder(path.parent_path().string())) return;
  const std::string bytes = bytes_of(bank, options);
  if (bytes.size() > most_bytes) return;
  try {
    disk::write_file(path.string(), bytes, disk::Who::person);
    forget_others(path.parent_path(), path);
  } catch (const std::exception&) {  // no place, no right: next time it is made again
  }
}

}  // namespace

std::string cache_folder() {
  const char* cache = std::getenv("XDG_CACHE_HOME");
  const char* home = std::getenv("HOME");
  if (cache != nullptr && *cache != '\0') return (fs::path(cache) / "drawdown").string();
  if (home != nullptr && *home != '\0') return (fs::path(home) / ".cache" / "drawdown").string();
  return {};
}

std::shared_ptr<const study::explain::Bank> kept_bank(const study::explain::BankOptions& options,
                                                      study::explain::Control* control) {
  static std::mutex mutex;
  static std::map<std::string, std::shared_ptr<const study::explain::Bank>> in_memory;
  const std::lock_guard lock(mutex);
  const std::string key = bank_key(options);
  if (const auto there = in_memory.find(key); there != in_memory.end()) return there->second;
  const std::string folder = cache_folder();
  const fs::path path = fs::path(folder) / (beginning + key + ending);
  auto bank = folder.empty() ? std::nullopt : from_disk(path, options);
  if (!bank) {
    bank = make_bank(options, control);
    if (!bank) return nullptr;
    if (!folder.empty()) to_disk(path, *bank, options);
  }
  in_memory.clear();
  return in_memory[key] = std::make_shared<const study::explain::Bank>(std::move(*bank));
}

}  // namespace drawdown::work
