"""An invented weights room, played through one whole block by the product's own verbs.

`cast` says who trains there, `body` what is really so of each of them (under a law unlike the
engine's), `training` how they do a sheet and type the log, `coach` how proposals are answered,
`play` runs one person from history to the next block. Nobody here exists."""
