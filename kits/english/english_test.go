package english

import "testing"

func TestAnd(t *testing.T) {
	for _, c := range []struct {
		names []string
		most  int
		want  string
	}{
		{nil, 3, ""},
		{[]string{"a"}, 3, "a"},
		{[]string{"a", "b"}, 3, "a and b"},
		{[]string{"a", "b", "c"}, 3, "a, b and c"},
		{[]string{"a", "b", "c", "d"}, 3, "a, b and 2 others"},
		{[]string{"a", "b", "c", "d"}, 1, "4 others"},
	} {
		if got := And(c.names, c.most); got != c.want {
			t.Errorf("And(%q, %d) = %q, want %q", c.names, c.most, got, c.want)
		}
	}
}

func TestCount(t *testing.T) {
	for got, want := range map[string]string{
		Count(1, "part"):                     "1 part",
		Count(0, "part"):                     "0 parts",
		Count(1, "piece goes", "pieces go"):  "1 piece goes",
		Count(12, "piece goes", "pieces go"): "12 pieces go",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestNumbers(t *testing.T) {
	for got, want := range map[string]string{
		Number(100, 2):                "100",
		Number(0.125, 2):              "0.13",
		Number(-0.001, 2):             "0",
		Number(1234567.25, 1):         "1234567.3",
		Percent(0.506):                "51 %",
		Vector([3]float64{0, -1, .5}): "[0, -1, 0.5]",
		OneLine(" a\n  b\tc "):        "a b c",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
