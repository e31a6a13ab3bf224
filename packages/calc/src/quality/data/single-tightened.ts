/**
 * MIL-STD-105E (10 May 1989, public domain), table II-B: single sampling plans for tightened inspection. Evidence P:
 * the plan every cell leads to agrees in two independently retyped copies, and the diagonal rule is a test.
 * Columns are AQL, cells Ac/Re, `v` the first plan below in the same column, `^` the first plan above.
 * Row S exists for the one cell that the arrow at R, AQL 0.025 would otherwise lead nowhere; `.` is no cell at all.
 */
export const SINGLE_TIGHTENED = `
     n 0.010 0.015 0.025 0.040 0.065 0.10 0.15 0.25  0.40  0.65   1.0   1.5   2.5   4.0   6.5    10    15    25    40    65   100   150   250   400   650  1000
A    2     v     v     v     v     v    v    v    v     v     v     v     v     v     v     v     v     v     v   1/2   2/3   3/4   5/6   8/9 12/13 18/19 27/28
B    3     v     v     v     v     v    v    v    v     v     v     v     v     v     v   0/1     v     v   1/2   2/3   3/4   5/6   8/9 12/13 18/19 27/28 41/42
C    5     v     v     v     v     v    v    v    v     v     v     v     v     v   0/1     v     v   1/2   2/3   3/4   5/6   8/9 12/13 18/19 27/28 41/42     ^
D    8     v     v     v     v     v    v    v    v     v     v     v     v   0/1     v     v   1/2   2/3   3/4   5/6   8/9 12/13 18/19 27/28 41/42     ^     ^
E   13     v     v     v     v     v    v    v    v     v     v     v   0/1     v     v   1/2   2/3   3/4   5/6   8/9 12/13 18/19 27/28 41/42     ^     ^     ^
F   20     v     v     v     v     v    v    v    v     v     v   0/1     v     v   1/2   2/3   3/4   5/6   8/9 12/13 18/19     ^     ^     ^     ^     ^     ^
G   32     v     v     v     v     v    v    v    v     v   0/1     v     v   1/2   2/3   3/4   5/6   8/9 12/13 18/19     ^     ^     ^     ^     ^     ^     ^
H   50     v     v     v     v     v    v    v    v   0/1     v     v   1/2   2/3   3/4   5/6   8/9 12/13 18/19     ^     ^     ^     ^     ^     ^     ^     ^
J   80     v     v     v     v     v    v    v  0/1     v     v   1/2   2/3   3/4   5/6   8/9 12/13 18/19     ^     ^     ^     ^     ^     ^     ^     ^     ^
K  125     v     v     v     v     v    v  0/1    v     v   1/2   2/3   3/4   5/6   8/9 12/13 18/19     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
L  200     v     v     v     v     v  0/1    v    v   1/2   2/3   3/4   5/6   8/9 12/13 18/19     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
M  315     v     v     v     v   0/1    v    v  1/2   2/3   3/4   5/6   8/9 12/13 18/19     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
N  500     v     v     v   0/1     v    v  1/2  2/3   3/4   5/6   8/9 12/13 18/19     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
P  800     v     v   0/1     v     v  1/2  2/3  3/4   5/6   8/9 12/13 18/19     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
Q 1250     v   0/1     v     v   1/2  2/3  3/4  5/6   8/9 12/13 18/19     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
R 2000   0/1     ^     v   1/2   2/3  3/4  5/6  8/9 12/13 18/19     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
S 3150     .     .   1/2     .     .    .    .    .     .     .     .     .     .     .     .     .     .     .     .     .     .     .     .     .     .     .
`;
