package sample

import (
	"context"

	"fewtubes/cmd/fewtubes/internal/values"
)

// Fitted is the curve by which Sample moves the values of a picture into what paint
// shows; nil when none need move, or once the context has ended.
func Fitted(ctx context.Context, s Source) *values.Curve {
	return look(ctx, s, Options{FitValues: true}).curve
}
