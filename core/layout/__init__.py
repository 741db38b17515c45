"""From a job of whole numbers to sheets, each a tree of edge-to-edge cuts. Knows nothing of projects."""
