package report

import (
	"fmt"
	"math"
	"reflect"
	"strings"
)

// Finite is the door through which documents leave: an error names the first
// field that holds a number which is none, as palettes[0].worst_de. Such a
// document is a fault of the program. Only a Without may be +Inf.
func Finite(document any) error { return finite(reflect.ValueOf(document), "") }

func finite(v reflect.Value, at string) error {
	switch v.Kind() {
	case reflect.Float32, reflect.Float64:
		f := v.Float()
		if math.IsNaN(f) || math.IsInf(f, 0) && !(f > 0 && v.Type() == reflect.TypeFor[Without]()) {
			return fmt.Errorf("report: internal: %s is %v", at, f)
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return finite(v.Elem(), at)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if err := finite(v.Index(i), fmt.Sprintf("%s[%d]", at, i)); err != nil {
				return err
			}
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			if err := finite(v.MapIndex(key), fmt.Sprintf("%s[%v]", at, key)); err != nil {
				return err
			}
		}
	case reflect.Struct:
		return finiteFields(v, at)
	}
	return nil
}

func finiteFields(v reflect.Value, at string) error {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case !f.IsExported():
			continue
		case name == "":
			name = f.Name
		}
		path := at
		if !f.Anonymous {
			path = strings.TrimPrefix(at+"."+name, ".")
		}
		if err := finite(v.Field(i), path); err != nil {
			return err
		}
	}
	return nil
}
