package document

import (
	"strings"
	"testing"
)

// Noise of the computation is taken out at any depth, and nothing else is changed.
func TestWriteJSON(t *testing.T) {
	type inner struct {
		At    [2]float64 `json:"at"`
		Exact float64    `json:"exact" exact:""`
		own   float64    // is not written, and is kept
	}
	list := []any{&inner{[2]float64{0.09999999999999999, -1e-9}, 1.0 / 3, 1}, []inner{}, []string(nil), 5.000000953674316, "<0.09999999999999999>", 123456789012.125}
	var out strings.Builder
	if err := WriteJSON(&out, list); err != nil {
		t.Fatal(err)
	}
	got := strings.Join(strings.Fields(out.String()), "")
	if want := `[{"at":[0.1,0],"exact":0.3333333333333333},[],null,5.000001,"<0.09999999999999999>",123456789012.125]`; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if in := list[0].(*inner); in.At[0] == 0.1 || in.own != 1 {
		t.Error("the data themselves were changed")
	}
}
