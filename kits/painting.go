package kits

import "time"

// Painting is how long it takes to paint a piece on its own.
type Painting struct {
	Takes time.Duration // hands-on, all coats together
	Sets  time.Duration // after that, until it can be handled
}
