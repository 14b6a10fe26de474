package document

import (
	"encoding/json"
	"io"
	"math"
	"reflect"
)

// WriteJSON writes data as JSON, indented. Numbers are rounded to millionths, as nothing
// is measured finer and more digits are noise of the computation. A field with the tag
// exact is left as it is.
func WriteJSON(w io.Writer, data any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(rounded(reflect.ValueOf(data)).Interface())
}

// rounded copies a value with its numbers rounded.
func rounded(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Float64:
		out.SetFloat(millionths(v.Float()))
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(rounded(v.Elem()))
		}
	case reflect.Interface:
		if !v.IsNil() {
			out.Set(rounded(v.Elem()))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if _, exact := f.Tag.Lookup("exact"); f.IsExported() && !exact {
				out.Field(i).Set(rounded(v.Field(i)))
			}
		}
	case reflect.Slice:
		if !v.IsNil() {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		}
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			out.Index(i).Set(rounded(v.Index(i)))
		}
	}
	return out
}

// millionths rounds a number; one so large that millionths mean nothing stays.
func millionths(v float64) float64 {
	const finest, most = 1e6, 1e9
	if math.Abs(v) > most {
		return v
	}
	return math.Round(v*finest)/finest + 0
}
