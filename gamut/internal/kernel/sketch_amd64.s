#include "go_asm.h"
#include "textflag.h"

// The loop of sketch.go, eight mixtures at once (AVX2, FMA). What is rounded otherwise
// than there is within the error of a sketch. A row of bands has 128 bytes; a sketch
// holds K and then S.

#define ROW 144

// A paint (P) by its volumes (V): K into Y3, S into Y4.
#define ADDPAINT(P, V) \
	VBROADCASTSS (P)(BX*1), Y5    \
	VFMADD231PS  Y5, V, Y3        \
	VBROADCASTSS ROW(P)(BX*1), Y6 \
	VFMADD231PS  Y6, V, Y4

// What is seen (Y4) by the weight of a sum (Y).
#define WEIGH(I, Y) \
	VBROADCASTSS sketchOptics_weight+(I*ROW)(DX)(BX*1), Y5 \
	VFMADD231PS  Y5, Y4, Y

#define CONSTANT(AT, BITS) DATA constants<>+AT(SB)/4, $BITS

CONSTANT(0, 0x358637bd)  // 1e-6
CONSTANT(4, 0x3c111aa7)  // (6/29)^3
CONSTANT(8, 0x40f92f68)  // (29/6)^2 / 3
CONSTANT(12, 0x3e0d3dcb) // 4/29
CONSTANT(16, 0x3eaaaaab) // 1/3
CONSTANT(20, 0x3faaaaab) // 4/3
CONSTANT(24, 0x4ea945f5) // 0x54a2fa8c as a number
CONSTANT(28, 0x42e80000) // 116
CONSTANT(32, 0x41800000) // 16
CONSTANT(36, 0x43fa0000) // 500
CONSTANT(40, 0x43480000) // 200
GLOBL constants<>(SB), RODATA, $44

// Newton's step to the inverse cube root (Z) of what a third (T) is of.
#define STEP(T, Z) \
	VMULPS      Z, Z, Y5    \
	VMULPS      Y5, Y5, Y5  \
	VMULPS      T, Y5, Y5   \
	VFMSUB213PS Y5, Y13, Z

// CIELAB's f of a sum (Y) and its base at B.
#define F(B, Y) \
	VBROADCASTSS sketchOptics_base+B(DX), Y3  \
	VADDPS       Y3, Y, Y                     \
	VMAXPS       Y10, Y, Y                    \
	VMULPS       Y12, Y, Y4                   \
	VCVTDQ2PS    Y, Y3                        \
	VFNMADD213PS Y14, Y12, Y3                 \
	VCVTPS2DQ    Y3, Y3                       \
	STEP(Y4, Y3)                              \
	STEP(Y4, Y3)                              \
	STEP(Y4, Y3)                              \
	VMULPS       Y3, Y3, Y3                   \
	VMULPS       Y, Y3, Y3                    \
	VMOVAPS      Y9, Y4                       \
	VFMADD231PS  Y8, Y, Y4                    \
	VCMPPS       $1, Y11, Y, Y5               \
	VBLENDVPS    Y5, Y4, Y3, Y

// Roots and reciprocals are those of the processor's tables, off by 4e-4 at most.

// func sketchWide(dst *Sketches, volumes *Volumes, paints *[Sketched]*sketch, o *sketchOptics)
TEXT ·sketchWide(SB), NOSPLIT, $0-32
	MOVQ         dst+0(FP), DI
	MOVQ         volumes+8(FP), SI
	MOVQ         paints+16(FP), AX
	MOVQ         o+24(FP), DX
	MOVQ         0(AX), R8
	MOVQ         8(AX), R9
	MOVQ         16(AX), R10
	MOVQ         24(AX), R11
	VBROADCASTSS (DX), Y15
	VMOVUPS      0(SI), Y11
	VMOVUPS      32(SI), Y12
	VMOVUPS      64(SI), Y13
	VMOVUPS      96(SI), Y14
	VXORPS       Y0, Y0, Y0
	VXORPS       Y1, Y1, Y1
	VXORPS       Y2, Y2, Y2
	XORQ         BX, BX

band:
	VXORPS      Y3, Y3, Y3
	VXORPS      Y4, Y4, Y4
	ADDPAINT(R8, Y11)
	ADDPAINT(R9, Y12)
	ADDPAINT(R10, Y13)
	ADDPAINT(R11, Y14)
	VADDPS      Y4, Y4, Y5
	VADDPS      Y3, Y5, Y5
	VMULPS      Y3, Y5, Y5
	VRSQRTPS     Y5, Y6
	VMULPS       Y6, Y5, Y5
	VADDPS       Y3, Y5, Y5
	VFMADD231PS  Y4, Y15, Y5
	VRCPPS       Y5, Y6
	VMULPS       Y6, Y4, Y4
	WEIGH(0, Y0)
	WEIGH(1, Y1)
	WEIGH(2, Y2)
	ADDQ        $4, BX
	CMPQ        BX, $ROW
	JNE         band
	VBROADCASTSS constants<>+0(SB), Y10
	VBROADCASTSS constants<>+4(SB), Y11
	VBROADCASTSS constants<>+16(SB), Y12
	VBROADCASTSS constants<>+20(SB), Y13
	VBROADCASTSS constants<>+24(SB), Y14
	VBROADCASTSS constants<>+8(SB), Y8
	VBROADCASTSS constants<>+12(SB), Y9
	F(0, Y0)
	F(4, Y1)
	F(8, Y2)
	VSUBPS       Y1, Y0, Y0
	VSUBPS       Y2, Y1, Y2
	VBROADCASTSS constants<>+28(SB), Y3
	VBROADCASTSS constants<>+32(SB), Y4
	VFMSUB213PS  Y4, Y3, Y1
	VBROADCASTSS constants<>+36(SB), Y3
	VMULPS       Y3, Y0, Y0
	VBROADCASTSS constants<>+40(SB), Y3
	VMULPS       Y3, Y2, Y2
	VMOVUPS     Y1, 0(DI)
	VMOVUPS     Y0, 32(DI)
	VMOVUPS     Y2, 64(DI)
	VZEROUPPER
	RET
