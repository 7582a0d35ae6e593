#include "go_asm.h"
#include "textflag.h"

// The loops of bandloops.go, four bands at once (AVX2), with the same operations
// in the same order, so with the same bits. Paint holds 36 K and then 36 S: S lies
// ROW bytes after K, and a row is nine steps of 32 bytes.

#define ROW 288
#define STEPS 9

// The sum of the four lanes of Y, as (0+2) + (1+3).
#define TOTAL(Y, X, T) \
	VEXTRACTF128 $1, Y, T \
	VADDPD       T, X, X  \
	VHADDPD      X, X, X

#define BROADCAST_ONE(Y, X) \
	MOVQ         $0x3ff0000000000000, AX \
	VMOVQ        AX, X                   \
	VBROADCASTSD X, Y

// Three sums over the bands, in Y0 to Y2: Y9 under the weights of the optics at SI
// is added to each; their totals go to DX.
#define WEIGHED \
	VMULPD Optics_weight(SI), Y9, Y10         \
	VADDPD Y10, Y0, Y0                        \
	VMULPD Optics_weight+ROW(SI), Y9, Y11     \
	VADDPD Y11, Y1, Y1                        \
	VMULPD Optics_weight+(2*ROW)(SI), Y9, Y12 \
	VADDPD Y12, Y2, Y2

#define TOTALS \
	TOTAL(Y0, X0, X3)  \
	TOTAL(Y1, X1, X4)  \
	TOTAL(Y2, X2, X5)  \
	VMOVSD X0, (DX)    \
	VMOVSD X1, 8(DX)   \
	VMOVSD X2, 16(DX)

// One paint times its amount (Y9), added to nine sums.
#define ADD(offset, T, Y) \
	VMULPD offset(AX), Y9, T \
	VADDPD T, Y, Y

// func sumWide(sum, paints *Paint, list *int, amounts *float64, n int)
// Nine steps of K stay in registers while the paints go by, then those of S.
TEXT ·sumWide(SB), NOSPLIT, $0-40
	MOVQ sum+0(FP), DI
	MOVQ paints+8(FP), SI
	MOVQ $2, R12

row:
	MOVQ         list+16(FP), R8
	MOVQ         amounts+24(FP), R9
	MOVQ         n+32(FP), CX
	MOVQ         (R8), AX
	IMULQ        $Paint__size, AX
	ADDQ         SI, AX
	VBROADCASTSD (R9), Y9
	VMULPD       0(AX), Y9, Y0
	VMULPD       32(AX), Y9, Y1
	VMULPD       64(AX), Y9, Y2
	VMULPD       96(AX), Y9, Y3
	VMULPD       128(AX), Y9, Y4
	VMULPD       160(AX), Y9, Y5
	VMULPD       192(AX), Y9, Y6
	VMULPD       224(AX), Y9, Y7
	VMULPD       256(AX), Y9, Y8
	JMP          next

paint:
	MOVQ         (R8), AX
	IMULQ        $Paint__size, AX
	ADDQ         SI, AX
	VBROADCASTSD (R9), Y9
	ADD(0, Y10, Y0)
	ADD(32, Y11, Y1)
	ADD(64, Y12, Y2)
	ADD(96, Y13, Y3)
	ADD(128, Y14, Y4)
	ADD(160, Y15, Y5)
	ADD(192, Y10, Y6)
	ADD(224, Y11, Y7)
	ADD(256, Y12, Y8)

next:
	ADDQ $8, R8
	ADDQ $8, R9
	DECQ CX
	JNZ  paint
	VMOVUPD Y0, 0(DI)
	VMOVUPD Y1, 32(DI)
	VMOVUPD Y2, 64(DI)
	VMOVUPD Y3, 96(DI)
	VMOVUPD Y4, 128(DI)
	VMOVUPD Y5, 160(DI)
	VMOVUPD Y6, 192(DI)
	VMOVUPD Y7, 224(DI)
	VMOVUPD Y8, 256(DI)
	ADDQ $ROW, SI
	ADDQ $ROW, DI
	DECQ R12
	JNZ  row
	VZEROUPPER
	RET

// func seenWide(t *[3]float64, p *Point, o *Optics)
TEXT ·seenWide(SB), NOSPLIT, $0-24
	MOVQ         t+0(FP), DX
	MOVQ         p+8(FP), DI
	MOVQ         o+16(FP), SI
	VBROADCASTSD Optics_k2(SI), Y15
	BROADCAST_ONE(Y14, X14)
	VXORPD       Y0, Y0, Y0
	VXORPD       Y1, Y1, Y1
	VXORPD       Y2, Y2, Y2
	MOVQ         $STEPS, CX

seen:
	VMOVUPD Point_sum(DI), Y3
	VMOVUPD Point_sum+ROW(DI), Y4
	VADDPD  Y4, Y3, Y5            // k+s
	VADDPD  Y4, Y5, Y6
	VMULPD  Y6, Y3, Y6
	VSQRTPD Y6, Y6                // root
	VMULPD  Y4, Y15, Y7
	VSUBPD  Y7, Y5, Y7
	VADDPD  Y6, Y7, Y7            // rest
	VMULPD  Y7, Y6, Y8
	VDIVPD  Y8, Y14, Y8           // both
	VMULPD  Y7, Y8, Y9
	VMOVUPD Y9, Point_perRoot(DI)
	VMULPD  Y6, Y8, Y9
	VMOVUPD Y9, Point_inverse(DI)
	VMULPD  Y9, Y4, Y9            // seen
	WEIGHED
	ADDQ    $32, DI
	ADDQ    $32, SI
	DECQ    CX
	JNZ     seen
	TOTALS
	VZEROUPPER
	RET

// func slopeWide(d *Paint, p *Point, k2 float64)
TEXT ·slopeWide(SB), NOSPLIT, $0-24
	MOVQ         d+0(FP), DX
	MOVQ         p+8(FP), DI
	VBROADCASTSD k2+16(FP), Y15
	BROADCAST_ONE(Y14, X14)
	VSUBPD       Y15, Y14, Y15 // 1 - k2
	VXORPD       Y13, Y13, Y13
	MOVQ         $STEPS, CX

slope:
	VMOVUPD Point_sum(DI), Y0
	VMOVUPD Point_sum+ROW(DI), Y1
	VMOVUPD Point_inverse(DI), Y2
	VMOVUPD Point_perRoot(DI), Y3
	VMULPD  Y2, Y1, Y4
	VMULPD  Y2, Y4, Y4   // square
	VADDPD  Y1, Y0, Y5
	VMULPD  Y3, Y5, Y5
	VADDPD  Y5, Y14, Y5
	VMULPD  Y5, Y4, Y5
	VSUBPD  Y5, Y13, Y5
	VMOVUPD Y5, (DX)
	VMULPD  Y3, Y0, Y6
	VADDPD  Y6, Y15, Y6
	VMULPD  Y6, Y4, Y6
	VSUBPD  Y6, Y2, Y6
	VMOVUPD Y6, ROW(DX)
	ADDQ    $32, DI
	ADDQ    $32, DX
	DECQ    CX
	JNZ     slope
	VZEROUPPER
	RET

// func weighWide(t *[3]float64, d *Paint, o *Optics, paint *Paint)
TEXT ·weighWide(SB), NOSPLIT, $0-32
	MOVQ   t+0(FP), DX
	MOVQ   d+8(FP), DI
	MOVQ   o+16(FP), SI
	MOVQ   paint+24(FP), BX
	VXORPD Y0, Y0, Y0
	VXORPD Y1, Y1, Y1
	VXORPD Y2, Y2, Y2
	MOVQ   $STEPS, CX

weigh:
	VMOVUPD (DI), Y3
	VMULPD  (BX), Y3, Y3
	VMOVUPD ROW(DI), Y4
	VMULPD  ROW(BX), Y4, Y4
	VADDPD  Y4, Y3, Y9
	WEIGHED
	ADDQ    $32, DI
	ADDQ    $32, SI
	ADDQ    $32, BX
	DECQ    CX
	JNZ     weigh
	TOTALS
	VZEROUPPER
	RET

// func dotWide(p, q *Paint) float64
TEXT ·dotWide(SB), NOSPLIT, $0-24
	MOVQ   p+0(FP), DI
	MOVQ   q+8(FP), SI
	VXORPD Y0, Y0, Y0
	VXORPD Y1, Y1, Y1
	MOVQ   $STEPS, CX

dot:
	VMOVUPD (DI), Y2
	VMULPD  (SI), Y2, Y2
	VADDPD  Y2, Y0, Y0
	VMOVUPD ROW(DI), Y3
	VMULPD  ROW(SI), Y3, Y3
	VADDPD  Y3, Y1, Y1
	ADDQ    $32, DI
	ADDQ    $32, SI
	DECQ    CX
	JNZ     dot
	VADDPD  Y1, Y0, Y0
	TOTAL(Y0, X0, X1)
	VMOVSD  X0, ret+16(FP)
	VZEROUPPER
	RET

// func nextPairWide(from *Gauge, nearest *[32]float32, pairs *Pair, others *int, n int, worst float32, d *[8]float32) int
// The eight colours of a pair at once, in single precision.
TEXT ·nextPairWide(SB), NOSPLIT, $0-64
	MOVQ         from+0(FP), AX
	MOVQ         nearest+8(FP), R8
	MOVQ         pairs+16(FP), SI
	MOVQ         others+24(FP), DI
	MOVQ         n+32(FP), BX
	VBROADCASTSS Gauge_l(AX), Y8
	VBROADCASTSS Gauge_a(AX), Y9
	VBROADCASTSS Gauge_b(AX), Y10
	VBROADCASTSS Gauge_ll(AX), Y11
	VBROADCASTSS Gauge_aa(AX), Y12
	VBROADCASTSS Gauge_ab(AX), Y13
	VBROADCASTSS Gauge_bb(AX), Y14
	VBROADCASTSS worst+40(FP), Y15
	XORQ         CX, CX

pair:
	CMPQ       CX, BX
	JGE        none
	MOVQ       (DI)(CX*8), AX
	IMULQ      $Pair__size, AX
	ADDQ       SI, AX
	VMOVUPS    Pair_L(AX), Y0
	VSUBPS     Y8, Y0, Y0
	VMOVUPS    Pair_A(AX), Y1
	VSUBPS     Y9, Y1, Y1
	VMOVUPS    Pair_B(AX), Y2
	VSUBPS     Y10, Y2, Y2
	VMULPS     Y0, Y11, Y3
	VMULPS     Y0, Y3, Y3
	VMULPS     Y1, Y12, Y4
	VMULPS     Y2, Y13, Y5
	VADDPS     Y5, Y4, Y4
	VMULPS     Y4, Y1, Y4
	VADDPS     Y4, Y3, Y3
	VMULPS     Y2, Y14, Y5
	VMULPS     Y2, Y5, Y5
	VADDPS     Y5, Y3, Y3           // distances
	VPMOVZXBD  Pair_Region(AX), Y6
	VPERMPS    (R8), Y6, Y0         // nearest of regions 0-7, by the low three bits
	VPERMPS    32(R8), Y6, Y1
	VPERMPS    64(R8), Y6, Y2
	VPERMPS    96(R8), Y6, Y4
	VPSLLD     $28, Y6, Y5
	VBLENDVPS  Y5, Y1, Y0, Y0       // by the fourth bit
	VBLENDVPS  Y5, Y4, Y2, Y2
	VPSLLD     $27, Y6, Y5
	VBLENDVPS  Y5, Y2, Y0, Y5       // by the fifth
	VMAXPS     Y15, Y5, Y5
	VCMPPS     $1, Y5, Y3, Y5       // less
	VMOVMSKPS  Y5, DX
	TESTL      DX, DX
	JNZ        found
	INCQ       CX
	JMP        pair

found:
	MOVQ    d+48(FP), DX
	VMOVUPS Y3, (DX)

none:
	MOVQ CX, ret+56(FP)
	VZEROUPPER
	RET
