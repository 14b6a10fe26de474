package scan

import (
	"strings"
	"testing"
)

func TestNumbers(t *testing.T) {
	for text, want := range map[string]float64{
		"0": 0, "-0": 0, "12": 12, "+1.5": 1.5, ".5": 0.5, "5.": 5, "1e3": 1000, "1E-3": 0.001, "-1.25e+2": -125,
		"0.1": 0.1, "9007199254740993": 9007199254740992, "123456789012345678901234567890": 123456789012345678901234567890,
		"1e-400": 0, "0.3e-22": 0.3e-22, "4.35": 4.35, "100000000000000000000000e-23": 1,
	} {
		if got, err := Number([]byte(text)); err != nil || got != want {
			t.Errorf("%s is read as %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "-", ".", "1e", "e5", "1.2.3", "--1", "0x10", "1_0", "infinity", "1d5", "1 ", strings.Repeat("1", 500)} {
		if got, err := Number([]byte(text)); err == nil {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}

func TestLinesAcrossBuffers(t *testing.T) {
	var text strings.Builder
	for i := range 5000 {
		text.WriteString(strings.Repeat("x", 1+i%97) + []string{"\n", "\r\n", "\r"}[i%3])
	}
	l := &Lines{r: strings.NewReader(text.String()), buf: make([]byte, 64)}
	for i := range 5000 {
		line, err := l.Next()
		if err != nil || len(line) != 1+i%97 || l.N != i+1 {
			t.Fatalf("line %d: %q, %v, numbered %d", i+1, line, err, l.N)
		}
	}
	if line, err := l.Next(); err == nil {
		t.Errorf("%q after the last line", line)
	}
}
