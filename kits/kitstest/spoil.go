package kitstest

import "math/rand/v2"

// Spoil damages what a file holds at random: cut off, longer, bits flipped or a stretch
// lost. The result differs from what was there; data is not kept.
func Spoil(random *rand.Rand, data []byte) []byte {
	switch random.IntN(4) {
	case 0:
		return data[:random.IntN(len(data))]
	case 1:
		return append(data, byte(random.Uint32()))
	case 2:
		at := random.IntN(len(data))
		was := data[at]
		clear(data[at:min(at+1+random.IntN(600), len(data))])
		data[at] = was ^ 0x55
		return data
	}
	for range 1 + random.IntN(20) {
		data[random.IntN(len(data))] ^= byte(1 << random.IntN(8))
	}
	data[random.IntN(len(data))] ^= byte(1 + random.IntN(255))
	return data
}
