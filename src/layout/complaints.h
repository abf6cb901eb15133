#pragma once
/// Gathers what is wrong in independent sections of a file, so that one run names it all.

#include <string>
#include <string_view>
#include <vector>

#include "document/document.h"
#include "fault/fault.h"

namespace motley::layout {

class Complaints {
public:
    void add(std::string where, std::string what, std::string remedy = {});

    /// Runs a step; what a Fault of Cause::input says is kept and false returned. Other faults pass through.
    template <class Step>
    bool attempt(Step step) {
        try {
            step();
            return true;
        } catch (const Fault& fault) {
            if (fault.cause() != Cause::input) throw;
            for (const Problem& problem : fault.problems()) add(problem.where, problem.what, problem.remedy);
            return false;
        }
    }

    /// Reads a member when it is there.
    template <class Read>
    void optional(const document::Node& parent, const std::string& key, Read read) {
        attempt([&] {
            if (const auto member = parent.find(key)) read(*member);
        });
    }

    /// Reads a member that must be there.
    template <class Read>
    void required(const document::Node& parent, const std::string& key, Read read) {
        attempt([&] { read(parent.at(key)); });
    }

    bool full() const { return problems_.size() >= most; } ///< Looking further would only repeat the tale.

    /// Throws Fault(Cause::input) with everything kept, when there is anything.
    void raise() const;

private:
    static constexpr std::size_t most = 50;
    std::vector<Problem> problems_;
    std::size_t more_ = 0;
};

using document::in_quotes;

/// "did you mean X?" for a word that is none of the known ones; else the known ones when they are few, else
/// `otherwise`.
std::string suggestion(std::string_view word, const std::vector<std::string>& known,
                       std::string_view otherwise);

/// A key as a step of a JSON pointer (RFC 6901: ~ is ~0, / is ~1).
std::string pointer_step(std::string_view key);

} // namespace motley::layout
