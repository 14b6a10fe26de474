package scan

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// maxNumber is the longest number that is read, in bytes.
const maxNumber = 400

// Number reads a decimal number as the formats write it: 12, -0.5, .5, 5., 1e-3.
// Hexadecimal, underscores and words are rejected.
func Number(s []byte) (float64, error) {
	if v, ok := ShortNumber(s); ok {
		return v, nil
	}
	if len(s) > maxNumber {
		return 0, errors.New("a number with more than 400 characters; export the part again")
	}
	for _, c := range s {
		if !IsDigit(c) && c != '.' && c != '-' && c != '+' && c != 'e' && c != 'E' {
			return 0, notANumber(s)
		}
	}
	v, err := strconv.ParseFloat(string(s), 64)
	switch {
	case err == nil:
		return v, nil
	case errors.Is(err, strconv.ErrRange):
		return 0, errors.New(Quote(s) + " is too large for a number")
	}
	return 0, notANumber(s)
}

func notANumber(s []byte) error {
	text := Quote(s) + " is not a number"
	switch word := strings.ToLower(strings.TrimLeft(string(s), "+-")); {
	case strings.HasPrefix(word, "nan"), strings.HasPrefix(word, "inf"), strings.Contains(word, "#in"), strings.Contains(word, "#qnan"):
		text = Quote(s) + " is not a finite number; export the part again"
	case strings.ContainsRune(word, ','):
		text += "; write decimals with a point, not a comma"
	}
	return errors.New(text)
}

// ShortNumber reads common short numbers, and leaves the rest. The digits make an
// integer below 2^53 and the power of ten is at most 22, both exact, so the
// single division or product rounds correctly (W. D. Clinger, "How to read
// floating point numbers accurately", 1990).
func ShortNumber(s []byte) (float64, bool) {
	i, negative := 0, false
	if len(s) > 0 && (s[0] == '-' || s[0] == '+') {
		negative, i = s[0] == '-', 1
	}
	var whole uint64
	digits, power := 0, 0
	for ; i < len(s) && IsDigit(s[i]); i++ {
		whole = whole*10 + uint64(s[i]-'0')
		digits++
	}
	if i < len(s) && s[i] == '.' {
		for i++; i < len(s) && IsDigit(s[i]); i++ {
			whole = whole*10 + uint64(s[i]-'0')
			digits++
			power--
		}
	}
	if digits == 0 || digits > 19 || whole >= 1<<53 {
		return 0, false
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		e, ok := ShortInt(s[i+1:])
		if !ok {
			return 0, false
		}
		power, i = power+e, len(s)
	}
	if i != len(s) || power > 22 || power < -22 {
		return 0, false
	}
	v := float64(whole)
	if power < 0 {
		v /= tens[-power]
	} else {
		v *= tens[power]
	}
	if negative {
		v = math.Copysign(v, -1)
	}
	return v, true
}

var tens = func() (list [23]float64) {
	for i := range list {
		list[i] = math.Pow10(i)
	}
	return list
}()

// ShortInt reads a whole number of up to nine digits.
func ShortInt(s []byte) (int, bool) {
	negative := false
	if len(s) > 0 && (s[0] == '-' || s[0] == '+') {
		negative, s = s[0] == '-', s[1:]
	}
	if len(s) == 0 || len(s) > 9 {
		return 0, false
	}
	v := 0
	for _, c := range s {
		if !IsDigit(c) {
			return 0, false
		}
		v = v*10 + int(c-'0')
	}
	if negative {
		v = -v
	}
	return v, true
}

// IsDigit reports an ASCII digit.
func IsDigit(c byte) bool { return c-'0' <= 9 }
