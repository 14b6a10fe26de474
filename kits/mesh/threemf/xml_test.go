package threemf

import (
	"strings"
	"testing"
)

func TestXMLTextIsLimited(t *testing.T) {
	x, err := newXML(strings.NewReader("<a>" + strings.Repeat(" ", maxToken+1) + "</a>"))
	for err == nil {
		_, err = x.next()
	}
	if !strings.Contains(err.Error(), "more than 16 MB") {
		t.Errorf("error %v", err)
	}
}
