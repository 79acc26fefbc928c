package web

import "dryfit/app"

// Schema is the JSON Schema of the toy file, as text.
type Schema struct {
	Text string `json:"text"`
}

var schemaCall = on("schema", "Says what may stand in a toy file.", func(*Server, None) (Schema, error) {
	b, err := app.Schema()
	return Schema{string(b)}, err
})
