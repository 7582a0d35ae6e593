// Package recession checks whether the colours of a scene step back with
// distance as painters have found the air to make them (common practice, no
// source): chroma falls, darks lighten, hues cool, the ground stays among the
// lighter values, and the strongest dark and the widest contrast stand in the
// foreground. The lightest light is often the sky. A scene that breaks a rule
// may be right: the check warns and never refuses.
package recession
