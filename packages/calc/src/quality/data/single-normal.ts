/**
 * MIL-STD-105E (10 May 1989, public domain), table II-A: single sampling plans for normal inspection. Evidence P:
 * the plan every cell leads to agrees in two independently retyped copies, and the diagonal rule is a test.
 * Columns are AQL, cells Ac/Re, `v` the first plan below in the same column, `^` the first plan above.
 */
export const SINGLE_NORMAL = `
     n 0.010 0.015 0.025 0.040 0.065 0.10 0.15  0.25  0.40  0.65   1.0   1.5   2.5   4.0   6.5    10    15    25    40    65   100   150   250   400   650  1000
A    2     v     v     v     v     v    v    v     v     v     v     v     v     v     v   0/1     v     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22 30/31
B    3     v     v     v     v     v    v    v     v     v     v     v     v     v   0/1     ^     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22 30/31 44/45
C    5     v     v     v     v     v    v    v     v     v     v     v     v   0/1     ^     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22 30/31 44/45     ^
D    8     v     v     v     v     v    v    v     v     v     v     v   0/1     ^     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22 30/31 44/45     ^     ^
E   13     v     v     v     v     v    v    v     v     v     v   0/1     ^     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22 30/31 44/45     ^     ^     ^
F   20     v     v     v     v     v    v    v     v     v   0/1     ^     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^
G   32     v     v     v     v     v    v    v     v   0/1     ^     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^     ^
H   50     v     v     v     v     v    v    v   0/1     ^     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^     ^     ^
J   80     v     v     v     v     v    v  0/1     ^     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^     ^     ^     ^
K  125     v     v     v     v     v  0/1    ^     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
L  200     v     v     v     v   0/1    ^    v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
M  315     v     v     v   0/1     ^    v  1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
N  500     v     v   0/1     ^     v  1/2  2/3   3/4   5/6   7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
P  800     v   0/1     ^     v   1/2  2/3  3/4   5/6   7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
Q 1250   0/1     ^     v   1/2   2/3  3/4  5/6   7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
R 2000     ^     ^   1/2   2/3   3/4  5/6  7/8 10/11 14/15 21/22     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
`;
