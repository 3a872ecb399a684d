"""One file per verb: load, think, save. The only place where files, store and engine meet."""
