#include "go_asm.h"
#include "textflag.h"

// The loop of sketch.go, eight bands at once (AVX2). A sketch holds K and then S,
// S SROW bytes after K; a row is five steps of 32 bytes.

#define SROW 160

// A paint (P) by its volume (V): K into Y3, S into Y4.
#define ADDPAINT(P, V) \
	VMULPS (P)(BX*1), V, Y5     \
	VADDPS Y5, Y3, Y3           \
	VMULPS SROW(P)(BX*1), V, Y6 \
	VADDPS Y6, Y4, Y4

// The sum of the eight lanes of Y.
#define TOTAL8(Y, X) \
	VEXTRACTF128 $1, Y, X3 \
	VADDPS       X3, X, X  \
	VHADDPS      X, X, X   \
	VHADDPS      X, X, X

// func sketchWide(dst *[3]float32, volumes *[Sketched]float32, n int, paints *[Sketched]*sketch, o *sketchOptics)
TEXT ·sketchWide(SB), NOSPLIT, $0-40
	MOVQ         dst+0(FP), DI
	MOVQ         volumes+8(FP), SI
	MOVQ         n+16(FP), CX
	MOVQ         paints+24(FP), AX
	MOVQ         o+32(FP), DX
	MOVQ         0(AX), R8
	MOVQ         8(AX), R9
	MOVQ         16(AX), R10
	MOVQ         24(AX), R11
	VBROADCASTSS (DX), Y15

mixture:
	VBROADCASTSS 0(SI), Y11
	VBROADCASTSS 4(SI), Y12
	VBROADCASTSS 8(SI), Y13
	VBROADCASTSS 12(SI), Y14
	VXORPS       Y0, Y0, Y0
	VXORPS       Y1, Y1, Y1
	VXORPS       Y2, Y2, Y2
	XORQ         BX, BX

band:
	VMULPS (R8)(BX*1), Y11, Y3
	VMULPS SROW(R8)(BX*1), Y11, Y4
	ADDPAINT(R9, Y12)
	ADDPAINT(R10, Y13)
	ADDPAINT(R11, Y14)
	VADDPS  Y4, Y4, Y5
	VADDPS  Y3, Y5, Y5
	VMULPS  Y3, Y5, Y5
	VSQRTPS Y5, Y5
	VADDPS  Y3, Y5, Y5
	VMULPS  Y4, Y15, Y6
	VADDPS  Y6, Y5, Y5
	VDIVPS  Y5, Y4, Y4
	VMULPS  sketchOptics_weight(DX)(BX*1), Y4, Y6
	VADDPS  Y6, Y0, Y0
	VMULPS  sketchOptics_weight+SROW(DX)(BX*1), Y4, Y7
	VADDPS  Y7, Y1, Y1
	VMULPS  sketchOptics_weight+(2*SROW)(DX)(BX*1), Y4, Y8
	VADDPS  Y8, Y2, Y2
	ADDQ    $32, BX
	CMPQ    BX, $SROW
	JNE     band
	TOTAL8(Y0, X0)
	TOTAL8(Y1, X1)
	TOTAL8(Y2, X2)
	VMOVSS  X0, 0(DI)
	VMOVSS  X1, 4(DI)
	VMOVSS  X2, 8(DI)
	ADDQ    $12, DI
	ADDQ    $16, SI
	DECQ    CX
	JNZ     mixture
	VZEROUPPER
	RET
