//! What the collection tells: completion, gaps, spares, waiting copies, where a card is.
