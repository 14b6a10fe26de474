package page

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"dryfit/kits/kitstest"
)

// shrink makes a picture smaller by a factor, each pixel the mean of those it
// stands for: fonts and edges differ between machines, what is where does not.
func shrink(img image.Image, by int) *image.NRGBA {
	r := img.Bounds()
	out := image.NewNRGBA(image.Rect(0, 0, r.Dx()/by, r.Dy()/by))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			var sum [3]uint32
			for v := range by {
				for u := range by {
					p, q, s, _ := img.At(r.Min.X+x*by+u, r.Min.Y+y*by+v).RGBA()
					sum[0], sum[1], sum[2] = sum[0]+p>>8, sum[1]+q>>8, sum[2]+s>>8
				}
			}
			n := uint32(by * by)
			out.SetNRGBA(x, y, color.NRGBA{uint8(sum[0] / n), uint8(sum[1] / n), uint8(sum[2] / n), 255})
		}
	}
	return out
}

// unlike is the share of pixels that differ by more than a quarter of the range.
func unlike(a, b *image.NRGBA) float64 {
	if a.Rect != b.Rect {
		return 1
	}
	n := 0
	for i := 0; i < len(a.Pix); i += 4 {
		for k := range 3 {
			if d := int(a.Pix[i+k]) - int(b.Pix[i+k]); d > 64 || d < -64 {
				n++
				break
			}
		}
	}
	return float64(n) / float64(len(a.Pix)/4)
}

// TestScreens compares pages with pictures that are kept. With
// UPDATE_GOLDEN set they are written anew; look at them.
func TestScreens(t *testing.T) {
	stuck, sound := trapped(t), chest(t, "")
	screens := []struct {
		name          string
		kit           folder
		width, height int64
		do            string
		features      []string
	}{
		{"trapped", stuck, 1200, 800, "dryfit.openTab('findings')", nil},
		{"trapped-dark", stuck, 1200, 800, "dryfit.openTab('findings')", []string{dark}},
		{"demo", demoKit(t), 1200, 800, "dryfit.scene.go(120)", nil},
		{"step-narrow", sound, 360, 800, "dryfit.scene.go(2); dryfit.scene.pick(2)", nil},
		{"apart", sound, 1200, 800, "dryfit.scene.apart = 1; dryfit.fit()", nil},
	}
	if os.Getenv("UPDATE_GOLDEN") == "" {
		screens = kitstest.Some(t, 3, screens)
	}
	for _, c := range screens {
		t.Run(c.name, func(t *testing.T) {
			b := newTab(t, c.width, c.height, c.features...)
			b.open(serve(t, c.kit))
			b.run("%s", c.do)
			b.settle()
			got := shrink(b.picture(), 4)
			file := filepath.Join("testdata", c.name+".png")
			if os.Getenv("UPDATE_GOLDEN") != "" {
				var out bytes.Buffer
				b.must(png.Encode(&out, got))
				b.must(os.MkdirAll("testdata", 0o755))
				b.must(os.WriteFile(file, out.Bytes(), 0o644))
				return
			}
			data, err := os.ReadFile(file)
			b.must(err)
			img, err := png.Decode(bytes.NewReader(data))
			b.must(err)
			if d := unlike(got, shrink(img, 1)); d > 0.02 {
				seen := filepath.Join(os.TempDir(), "dryfit-"+c.name+".png")
				var out bytes.Buffer
				b.must(png.Encode(&out, got))
				b.must(os.WriteFile(seen, out.Bytes(), 0o644))
				t.Errorf("%.1f %% of it differs from %s; it is kept as %s", 100*d, file, seen)
			}
		})
	}
}
