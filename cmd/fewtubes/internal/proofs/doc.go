// Package proofs writes a minimum, or what a palette misses, as a folder that anyone
// can verify, and verifies such folders.
//
// A folder holds:
//
//	theorem.txt      what is proven, in words
//	statement.txt    the same as data, below
//	tubes.txt        the absorption K and the scattering S of each tube
//	need-1.txt ...   certificates (package gamut/certain/check) that a colour is out
//	missed-1.txt ... of reach without some tubes, and of all: by need, and by colour
//	cover-WHAT.opb   the needs, the limits, and "one fewer than the minimum" of what is least
//	cover-WHAT.pbp   the proof that these cannot be kept together (package solver/cutting)
//
// # Statement
//
// One thing a line, in this order, words parted by single spaces; tubes are named by
// their ids, colours by their place from 1:
//
//	statement 1
//	title TEXT
//	light NAME
//	surface K1 K2
//	minimised WHAT N                   of a minimum: what is least (tubes, or bought), and
//	                                   how little; one more holds under those before it
//	most N                             limits on a palette, where there are any
//	budget CENTS
//	keep ID
//	group ID ID ...                    one of these at most
//	tubes SHA256                       of tubes.txt
//	tube ID BUY CENTS                  BUY: 1, or 0 where the painter owns it
//	colour STATE L a b TOLERANCE NAME  STATE: reached, missed (of all the tubes: a
//	                                   certificate), search (missed, without one), open
//	need WHAT COLOUR STATE ID ...      one of these is needed; STATE: proven, search
//	palette ID ...                     of a minimum: one that is as small
//	mix COLOUR ID SHARE ...            how a colour is reached
//	end
//
// In tubes.txt a line is "tube ID K*36 S*36", in the order of the statement.
package proofs
