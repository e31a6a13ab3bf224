/**
 * MIL-STD-105E (10 May 1989, public domain), table II-C: single sampling plans for reduced inspection. Evidence P:
 * the plan every cell leads to agrees in two independently retyped copies, and the diagonal rule is a test.
 * Columns are AQL, cells Ac/Re, `v` the first plan below in the same column, `^` the first plan above.
 * A count strictly between Ac and Re accepts this lot and returns the next one to normal inspection (105E 4.7.4). ISO
 * 2859-1:1999 removed that gap, so a record has to name the table it used.
 */
export const SINGLE_REDUCED = `
    n 0.010 0.015 0.025 0.040 0.065 0.10 0.15 0.25 0.40  0.65   1.0   1.5   2.5   4.0   6.5    10    15    25    40    65   100   150   250   400   650  1000
A   2     v     v     v     v     v    v    v    v    v     v     v     v     v     v   0/1     v     v   1/2   2/3   3/4   5/6   7/8 10/11 14/15 21/22 30/31
B   2     v     v     v     v     v    v    v    v    v     v     v     v     v   0/1     ^     v   0/2   1/3   2/4   3/5   5/6   7/8 10/11 14/15 21/22 30/31
C   2     v     v     v     v     v    v    v    v    v     v     v     v   0/1     ^     v   0/2   1/3   1/4   2/5   3/6   5/8  7/10 10/13 14/17 21/24     ^
D   3     v     v     v     v     v    v    v    v    v     v     v   0/1     ^     v   0/2   1/3   1/4   2/5   3/6   5/8  7/10 10/13 14/17 21/24     ^     ^
E   5     v     v     v     v     v    v    v    v    v     v   0/1     ^     v   0/2   1/3   1/4   2/5   3/6   5/8  7/10 10/13 14/17 21/24     ^     ^     ^
F   8     v     v     v     v     v    v    v    v    v   0/1     ^     v   0/2   1/3   1/4   2/5   3/6   5/8  7/10 10/13     ^     ^     ^     ^     ^     ^
G  13     v     v     v     v     v    v    v    v  0/1     ^     v   0/2   1/3   1/4   2/5   3/6   5/8  7/10 10/13     ^     ^     ^     ^     ^     ^     ^
H  20     v     v     v     v     v    v    v  0/1    ^     v   0/2   1/3   1/4   2/5   3/6   5/8  7/10 10/13     ^     ^     ^     ^     ^     ^     ^     ^
J  32     v     v     v     v     v    v  0/1    ^    v   0/2   1/3   1/4   2/5   3/6   5/8  7/10 10/13     ^     ^     ^     ^     ^     ^     ^     ^     ^
K  50     v     v     v     v     v  0/1    ^    v  0/2   1/3   1/4   2/5   3/6   5/8  7/10 10/13     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
L  80     v     v     v     v   0/1    ^    v  0/2  1/3   1/4   2/5   3/6   5/8  7/10 10/13     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
M 125     v     v     v   0/1     ^    v  0/2  1/3  1/4   2/5   3/6   5/8  7/10 10/13     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
N 200     v     v   0/1     ^     v  0/2  1/3  1/4  2/5   3/6   5/8  7/10 10/13     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
P 315     v   0/1     ^     v   0/2  1/3  1/4  2/5  3/6   5/8  7/10 10/13     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
Q 500   0/1     ^     v   0/2   1/3  1/4  2/5  3/6  5/8  7/10 10/13     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
R 800     ^     ^   0/2   1/3   1/4  2/5  3/6  5/8 7/10 10/13     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^     ^
`;
