package page

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"slices"

	"dryfit/app"
)

// FileWish is a file that is to be made of a toy.
type FileWish struct {
	What   string `json:"what"`   // lists, patterns, guide, pack, picture, export, plan
	Format string `json:"format"` // how its name ends
	View   string `json:"view"`   // of a picture: iso, front, side, top, apart; "": a sheet with all
	Count  int    `json:"count"`  // of lists and plan
	Ways   Ways   `json:"ways"`   // of a plan
	Print  Print  `json:"print"`
}

// FileOf makes a file. An export of several is put in a zip. read returns the photograph for the
// cover and may be nil.
func FileOf(ctx context.Context, j *Job, w FileWish, read func(name string) ([]byte, error)) ([]byte, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	on := j.On(w.Print, read)
	is := func(what string, formats ...string) bool { return w.What == what && slices.Contains(formats, w.Format) }
	switch {
	case is("lists", "csv"):
		return StockCSV(ctx, j, w.Count)
	case is("patterns", "pdf"):
		return j.Toy.Patterns(on)
	case is("guide", "pdf", "html"):
		return j.Toy.Guide(w.Format, on)
	case is("pack", "pdf"):
		return j.Toy.Pack(on)
	case is("picture", app.PictureFormats...):
		o := app.Pictures{View: w.View}
		if w.View == "apart" {
			o = app.Pictures{Exploded: true}
		}
		return j.Toy.Picture(w.Format, o)
	case is("plan", app.PlanFormats...):
		return PlanFile(ctx, j, w.Count, w.Ways, w.Format, w.Print)
	case is("export", app.Formats...):
		files, err := j.Toy.Export(w.Format)
		if err != nil || w.Format == "3mf" || w.Format == "glb" { // the whole toy in one file
			if err == nil {
				return files[0].Bytes, nil
			}
			return nil, err
		}
		return zipped(files)
	}
	return nil, fmt.Errorf("there is no %s that is written as %s", w.What, w.Format)
}

// zipped puts files into one. The same files give the same bytes.
func zipped(files []app.Made) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		w, err := z.Create(f.Name)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.Bytes); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}
