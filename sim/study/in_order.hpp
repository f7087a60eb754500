// Numbered pieces of work done by several threads and handed over in the order of their numbers, so that what is made
// of them does not depend on how many threads there are.
#pragma once

#include <condition_variable>
#include <cstddef>
#include <exception>
#include <functional>
#include <map>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>
#include <vector>

namespace drawdown::study {

// Does pieces 0 to count - 1 and calls deliver(number, piece) for each, in order, on the calling thread; returns how
// many were delivered. make_worker() is called once a thread, on that thread, and gives a function from a number to
// std::optional<Piece>; nothing means: stop, and no later piece is delivered. At most two pieces a thread wait for
// their turn. One thread or none: all on the calling thread. What a worker or deliver throws ends the work and is
// thrown on.
template <class Piece, class MakeWorker, class Deliver>
std::size_t in_order(std::size_t count, std::size_t threads, const MakeWorker& make_worker, const Deliver& deliver) {
  if (threads <= 1) {
    auto work = make_worker();
    for (std::size_t number = 0; number < count; ++number) {
      std::optional<Piece> piece = work(number);
      if (!piece) return number;
      deliver(number, std::move(*piece));
    }
    return count;
  }

  std::mutex mutex;  // of all that follows
  std::condition_variable moved;
  std::map<std::size_t, std::optional<Piece>> done;
  std::size_t claimed = 0;
  std::size_t delivered = 0;
  bool ended = false;
  std::exception_ptr fault;

  const auto one_thread = [&] {
    try {
      auto work = make_worker();
      while (true) {
        std::size_t number = 0;
        {
          std::unique_lock lock(mutex);
          moved.wait(lock, [&] { return ended || claimed >= count || claimed < delivered + 2 * threads; });
          if (ended || claimed >= count) return;
          number = claimed++;
        }
        std::optional<Piece> piece = work(number);
        const std::lock_guard lock(mutex);
        done.emplace(number, std::move(piece));
        moved.notify_all();
      }
    } catch (...) {
      const std::lock_guard lock(mutex);
      if (!fault) fault = std::current_exception();
      ended = true;
      moved.notify_all();
    }
  };

  std::vector<std::thread> running;
  // Whatever happens, the threads are told and waited for.
  struct Joined {  // NOLINT(cppcoreguidelines-special-member-functions): never copied, lives in this function
    std::vector<std::thread>& threads;
    std::function<void()> tell;
    ~Joined() {
      tell();
      for (std::thread& thread : threads) thread.join();
    }
  };
  {
    const Joined joined{running, [&] {
                          const std::lock_guard lock(mutex);
                          ended = true;
                          moved.notify_all();
                        }};
    for (std::size_t i = 0; i < threads; ++i) running.emplace_back(one_thread);
    while (delivered < count) {
      std::optional<Piece> piece;
      {
        std::unique_lock lock(mutex);
        moved.wait(lock, [&] { return ended || done.count(delivered) != 0; });
        if (ended) break;
        piece = std::move(done.extract(delivered).mapped());
      }
      if (!piece) break;
      deliver(delivered, std::move(*piece));
      const std::lock_guard lock(mutex);
      delivered += 1;
      moved.notify_all();
    }
  }
  if (fault) std::rethrow_exception(fault);
  return delivered;
}

}  // namespace drawdown::study
