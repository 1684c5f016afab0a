"""English sentences from actions. All words of the product's pages and sheets come from here."""
