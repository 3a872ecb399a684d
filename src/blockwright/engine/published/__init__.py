"""Published findings, each with its source; never edited to taste.

One module a subject; each value is a `Finding` (or an equation) that carries a `Source`, whose
`quoted` says whether the text was seen, is remembered, or was computed by us. The `title` of a
source says in our words what was found, not what the paper is called."""

from .finding import Finding
