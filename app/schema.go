package app

import "dryfit/toy/file"

// Schema returns the JSON Schema of the toy file.
func Schema() ([]byte, error) { return file.Schema() }
