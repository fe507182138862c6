#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <thread>
#include <vector>

namespace fitup {

/// Calls `work(block)` once for every block, on all cores.
/// @returns what the blocks gave, in their order, so that sums over it are the same to the last digit.
template <typename Result, typename Work>
std::vector<Result> for_all_blocks(std::size_t blocks, const Work& work) {
    std::vector<Result> results(blocks);
    std::atomic<std::size_t> next{0};
    const auto take = [&] {
        for (std::size_t i = next++; i < blocks; i = next++) results[i] = work(i);
    };
    std::vector<std::jthread> threads;
    const std::size_t cores = std::max(1U, std::thread::hardware_concurrency());
    for (std::size_t i = 1; i < std::min(cores, blocks); ++i) threads.emplace_back(take);
    take();
    threads.clear();
    return results;
}

}  // namespace fitup
