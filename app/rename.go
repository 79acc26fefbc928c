package app

import (
	"dryfit/measure/source"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

// Rename gives what a toy file speaks of (a size, stock, a part, a glue-up, a piece, a hinge) another
// name, wherever it does; what is its name, or its kind and its name (parts.wheel).
func Rename(f *source.File, what, to string) (*file.Renaming, error) { return file.Rename(f, what, to) }

// Edit makes an edit of a toy file, and all that speaks of something by its number follows.
func Edit(f *source.File, e tree.Edit) (string, error) { return file.Apply(f, e) }

// Users tells who in a toy file speaks of each part and glue-up, by its path, in words.
func Users(f *source.File) (map[string][]string, error) { return file.Users(f) }
