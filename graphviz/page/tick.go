package page

import (
	"encoding/json"
	"net/http"

	"dryfit/kits/plain"
)

// maxTick limits what the page may send, in bytes.
const maxTick = 8 << 10

// tick records that a line of a last call was ticked off. It is the only thing
// that a page can write, and only a page from this server can: a browser asks
// before any other page may send JSON, and that is never granted.
func (s *server) tick(w http.ResponseWriter, r *http.Request, origin string) {
	if origin == "" || r.Header.Get("Content-Type") != "application/json" {
		http.Error(w, "asked for by another page", http.StatusForbidden)
		return
	}
	var t struct {
		ID string `json:"id"`
		On bool   `json:"on"`
	}
	d := json.NewDecoder(http.MaxBytesReader(w, r.Body, maxTick))
	d.DisallowUnknownFields()
	if err := d.Decode(&t); err != nil {
		http.Error(w, "not a tick", http.StatusBadRequest)
		return
	}
	line, known := s.state.call(t.ID)
	if !known {
		http.Error(w, "no last call has that line", http.StatusNotFound)
		return
	}
	s.mu.Lock()
	err := s.kit.tick(line, t.On)
	s.mu.Unlock()
	if err != nil {
		http.Error(w, plain.Lines(err.Error()), http.StatusConflict)
		return
	}
	w.WriteHeader(http.StatusNoContent)
	s.wake() // other pages of the kit show the tick as well
}
