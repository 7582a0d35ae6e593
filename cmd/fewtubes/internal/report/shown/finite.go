package shown

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
)

// Finite is the door through which documents leave: an error names the first
// field that holds a number which is none, as palettes[0].worst_de. Such a
// document is a fault of the program. Only a Without may be +Inf.
func Finite(document any) error {
	if bad := finite(reflect.ValueOf(document)); bad != nil {
		slices.Reverse(bad.path)
		return fmt.Errorf("report: internal: %s is %v", strings.TrimPrefix(strings.Join(bad.path, ""), "."), bad.value)
	}
	return nil
}

// endless is a number that is none, and the steps to it, the last first: words
// are made only where there is something to say.
type endless struct {
	value float64
	path  []string
}

func (e *endless) within(step string) *endless {
	e.path = append(e.path, step)
	return e
}

func finite(v reflect.Value) *endless {
	switch v.Kind() {
	case reflect.Float32, reflect.Float64:
		f := v.Float()
		if math.IsNaN(f) || math.IsInf(f, 0) && !(f > 0 && v.Type() == reflect.TypeFor[Without]()) {
			return &endless{value: f}
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return finite(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		if kind := v.Type().Elem().Kind(); kind == reflect.Uint8 || kind == reflect.String {
			return nil
		}
		for i := range v.Len() {
			if bad := finite(v.Index(i)); bad != nil {
				return bad.within(fmt.Sprintf("[%d]", i))
			}
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			if bad := finite(v.MapIndex(key)); bad != nil {
				return bad.within(fmt.Sprintf("[%v]", key))
			}
		}
	case reflect.Struct:
		return finiteFields(v)
	}
	return nil
}

func finiteFields(v reflect.Value) *endless {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if !f.IsExported() {
			continue
		}
		switch bad := finite(v.Field(i)); {
		case bad == nil:
		case f.Anonymous:
			return bad
		default:
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			return bad.within("." + cmp.Or(name, f.Name))
		}
	}
	return nil
}
