// Package catalog holds the tubes: pigments, film constants, hazards,
// lightfastness, opacity, drying and price. The built-in tubes are embedded
// CSV files under data, written by the refit command from published readings.
package catalog
