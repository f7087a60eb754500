// Files, written so that a crash leaves either the old file or the new one, never half of it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

namespace drawdown::disk {

// Temporary file beside it, fsync, rename. Throws std::runtime_error with the path and the system's reason.
void write_file(const std::string& path, const std::string& content);
// The whole file. Throws std::runtime_error with the path and the system's reason, or if it is larger than `most`
// bytes.
[[nodiscard]] std::string read_whole_file(const std::string& path, std::size_t most);
// At most 64 KiB; nothing if there is no such file.
[[nodiscard]] std::optional<std::string> read_small_file(const std::string& path);
// Deletes it; no file is no error. Throws std::runtime_error.
void forget_file(const std::string& path);

}  // namespace drawdown::disk
