#pragma once
/// The lists that follow from a top, as text and as JSON.

#include "cli/commands.h"
#include "pipeline/lists.h"

namespace motley::cli {

void tell_counts(const layout::Layout& top, const std::vector<cutting::FabricCount>& counts,
                 const Streams& streams);

/// What to cut of each fabric, and what the stock gives.
void tell_cutting(const layout::Layout& top, const cutting::Cutting& cutting, const Streams& streams);

/// What to buy, line by line.
void tell_buying(const layout::Layout& top, const cutting::BuyingList& buying, const Streams& streams);

/// The same in a sentence or two.
void tell_purchase(const layout::Layout& top, const cutting::BuyingList& buying, const Streams& streams);

/// An object with "counts", "cutting" and "buying".
document::Json lists_json(const layout::Layout& top, const pipeline::Lists& lists);

} // namespace motley::cli
