package page

import (
	"net/http"
	"time"
)

// follower is a page that is told of changes.
type follower struct {
	news    chan struct{}
	changed bool // more than the status has changed since it was last told
}

// beatEvery is how often a page hears the status even if nothing changes. From its
// absence the page knows that the server is gone.
const beatEvery = 5 * time.Second

// pause is the least time between two events, so that progress does not flood a page.
const pause = 100 * time.Millisecond

// follow tells a page of each change until it is closed.
func (s *server) follow(w http.ResponseWriter, r *http.Request) {
	f := &follower{news: make(chan struct{}, 1)}
	s.mu.Lock()
	if len(s.followers) >= maxFollowers {
		s.mu.Unlock()
		http.Error(w, "too many pages follow this kit", http.StatusServiceUnavailable)
		return
	}
	s.followers[f] = true
	s.mu.Unlock()
	defer func() {
		s.mu.Lock()
		delete(s.followers, f)
		s.mu.Unlock()
	}()
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	_ = out.SetReadDeadline(time.Time{})
	beat := time.NewTicker(beatEvery)
	defer beat.Stop()
	for {
		_ = out.SetWriteDeadline(time.Now().Add(patience))
		if _, err := w.Write(s.event(f)); err != nil {
			return
		}
		if out.Flush() != nil {
			return
		}
		select {
		case <-r.Context().Done():
			return
		case <-time.After(pause):
		}
		select {
		case <-r.Context().Done():
			return
		case <-f.news:
		case <-beat.C:
		}
	}
}

// event is the status as an event, and before it, if more has changed, the word that
// there is a new state to ask for.
func (s *server) event(f *follower) []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	var text []byte
	if f.changed {
		text = append(text, "data: changed\n\n"...)
	}
	f.changed = false
	text = append(text, "event: status\ndata: "...)
	return append(append(text, s.state.statusJSON()...), "\n\n"...)
}

// wake tells all followers that there is a new state to ask for.
func (s *server) wake() { s.notify(true) }

// inform tells all followers that the status has changed.
func (s *server) inform() { s.notify(false) }

func (s *server) notify(changed bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for f := range s.followers {
		f.changed = f.changed || changed
		select {
		case f.news <- struct{}{}:
		default: // it has not been told of the last change yet
		}
	}
}
