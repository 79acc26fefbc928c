package main

type patternsCmd struct {
	toyArgs
	Out   string `help:"The PDF to write." short:"o" required:"" placeholder:"OUT.pdf"`
	Paper string `help:"a4 or letter." enum:"a4,letter" default:"a4"`
}

type stockCmd struct {
	toyArgs
	JSON bool `help:"Print the lists as JSON." name:"json"`
	CSV  bool `help:"Print the lists as CSV." name:"csv"`
}

type pictureCmd struct {
	toyArgs
	Out string `help:"The SVG to write." short:"o" required:"" placeholder:"OUT.svg"`
}
