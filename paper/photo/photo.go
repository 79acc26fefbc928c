// Package photo reads a designer's photograph, JPEG or PNG, and makes of it what goes
// into a file that is given away: [Read] is the whole of it.
//
// A JPEG that is upright and no finer than print can show is passed on as it is, without
// what cameras hide in it (where it was taken, a second picture, a film): jpeg.go. Any
// other is decoded, turned the way the camera was held (turn.go), scaled down by areas
// (scale.go) and packed again. All of it is counted in whole numbers, so that the bytes
// are the same everywhere.
package photo

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"image"
	"image/color"
	stddraw "image/draw"
	"image/jpeg"
	"image/png"

	"dryfit/paper/draw"
)

// Limits of what is read and passed on.
const (
	MostBytes  = 40 << 20  // of the file that is read: the largest of common cameras are below 30 MB
	mostPoints = 120 << 20 // of the picture, so that a small file cannot fill the memory
	dense      = 200       // points in an inch of paper: finer is not seen at arm's length (common practice, no source)
	mostPacked = 1500 << 10
)

// qualities are tried in turn until the picture is small enough.
var qualities = []int{90, 80, 70, 55, 40}

var (
	errKind  = errors.New("this is neither a JPEG nor a PNG")
	errEmpty = errors.New("the picture has no points")
)

// Read reads a photograph that is printed in a frame of at most the given size, mm.
func Read(data []byte, wide, high float64) (*draw.Photo, error) {
	isJPEG := bytes.HasPrefix(data, []byte("\xff\xd8"))
	if !isJPEG && !bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")) {
		return nil, errKind
	}
	about, decode := png.DecodeConfig, png.Decode
	if isJPEG {
		about, decode = jpeg.DecodeConfig, jpeg.Decode
	}
	size, err := about(bytes.NewReader(data))
	switch {
	case err != nil:
		return nil, fmt.Errorf("the picture cannot be read: %w", err)
	case size.Width <= 0 || size.Height <= 0:
		return nil, errEmpty
	case size.Width > mostPoints/size.Height:
		return nil, fmt.Errorf("%d × %d points are more than is read here: save it smaller", size.Width, size.Height)
	}
	img, err := decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the picture cannot be read: %w", err)
	}
	way := 1
	if isJPEG {
		way = orientation(data)
	}
	w, h := size.Width, size.Height
	if way > 4 {
		w, h = h, w
	}
	w, h = fit(w, h, wide, high)
	small := w >= size.Width && h >= size.Height
	_, grey := img.(*image.Gray)
	if _, deep := img.(*image.Gray16); deep {
		grey = true
	}
	if isJPEG && small && way == 1 && size.ColorModel != color.CMYKModel {
		if plain := bare(data); plain != nil && len(plain) <= mostPacked {
			return &draw.Photo{Width: size.Width, Height: size.Height, Grey: grey, JPEG: plain}, nil
		}
	}
	flat := image.NewRGBA(img.Bounds().Sub(img.Bounds().Min))
	stddraw.Draw(flat, flat.Rect, image.White, image.Point{}, stddraw.Src)
	stddraw.Draw(flat, flat.Rect, img, img.Bounds().Min, stddraw.Over)
	flat = turn(flat, way)
	flat = scale(flat, w, h)
	out := &draw.Photo{Width: w, Height: h, Grey: grey}
	if !isJPEG {
		if s := samples(flat, grey); packed(s) <= mostPacked {
			out.Samples = s
			return out, nil
		}
	}
	out.JPEG = pack(flat, grey)
	if isJPEG && size.ColorModel != color.CMYKModel {
		out.JPEG = withProfile(out.JPEG, data)
	}
	return out, nil
}

// fit returns how many points a picture of w × h points has in a frame in mm; never more
// than it has.
func fit(w, h int, wide, high float64) (int, int) {
	mostW, mostH := max(1, int(wide/25.4*dense)), max(1, int(high/25.4*dense))
	if w > mostW {
		w, h = mostW, max(1, h*mostW/w)
	}
	if h > mostH {
		w, h = max(1, w*mostH/h), mostH
	}
	return w, h
}

func samples(img *image.RGBA, grey bool) []byte {
	n := img.Rect.Dx() * img.Rect.Dy()
	if grey {
		out := make([]byte, n)
		for i := range out {
			out[i] = img.Pix[4*i]
		}
		return out
	}
	out := make([]byte, 0, 3*n)
	for i := range n {
		out = append(out, img.Pix[4*i:4*i+3]...)
	}
	return out
}

// packed is how long samples are in a file.
func packed(s []byte) int {
	var b bytes.Buffer
	z, _ := zlib.NewWriterLevel(&b, zlib.BestCompression)
	z.Write(s) // into memory: can't fail
	z.Close()
	return b.Len()
}

// pack writes a JPEG of the best quality that is small enough, or else the smallest.
func pack(img *image.RGBA, grey bool) []byte {
	var from image.Image = img
	if grey {
		from = &image.Gray{Pix: samples(img, true), Stride: img.Rect.Dx(), Rect: img.Rect}
	}
	var b bytes.Buffer
	for _, q := range qualities {
		b.Reset()
		jpeg.Encode(&b, from, &jpeg.Options{Quality: q}) // into memory, of a size that was read: can't fail
		if b.Len() <= mostPacked {
			break
		}
	}
	return b.Bytes()
}
