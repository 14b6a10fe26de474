package booklet

import "testing"

func TestTimesSigns(t *testing.T) {
	for text, want := range map[string]string{
		"Disc magnet 5 x 2": "Disc magnet 5 × 2", "inside 42 x 30 x 24": "inside 42 × 30 × 24", "4x5x6 mm": "4 × 5 × 6 mm", "M2 x 12": "M2 × 12",
		"extra": "extra", "box 4": "box 4", "x 4": "x 4", "4 x wire": "4 x wire", "5 × 2": "5 × 2", "": "",
	} {
		if got := timesSigns(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}
