"""One batch from eggs to rig: a stage per file, `plan` alone puts them in order."""
