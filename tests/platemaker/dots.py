"""Characters of five by seven dots, as impact and ink-jet coders print them."""

import numpy as np

ROWS, COLUMNS = 7, 5
# Each character's seven rows from the top, as hexadecimal digits pairs of five bits.
TABLE = """
0 0E11131519110E
1 040C040404040E
2 0E11010204081F
3 1F02040201110E
4 02060A121F0202
5 1F101E0101110E
6 0608101E11110E
7 1F010204080808
8 0E11110E11110E
9 0E11110F01020C
A 0E1111111F1111
B 1E11111E11111E
C 0E11101010110E
D 1C12111111121C
E 1F10101E10101F
F 1F10101E101010
G 0E11101711110F
H 1111111F111111
I 0E04040404040E
J 0702020202120C
K 11121418141211
L 1010101010101F
M 111B1515111111
N 11111915131111
O 0E11111111110E
P 1E11111E101010
Q 0E11111115120D
R 1E11111E141211
S 0F10100E01011E
T 1F040404040404
U 1111111111110E
V 11111111110A04
W 1111111515150A
X 11110A040A1111
Y 1111110A040404
Z 1F01020408101F
- 0000001F000000
. 00000000000C0C
, 000000000C0408
/ 00010204081000
: 000C0C000C0C00
# 0A0A1F0A1F0A0A
~ 00000815020000
& 0C12140815120D
( 02040808080402
) 08040202020408
"""
GLYPHS = {
    line[0]: np.array(
        [
            [int(line[2 + 2 * row : 4 + 2 * row], 16) >> (4 - column) & 1 for column in range(5)]
            for row in range(7)
        ],
        bool,
    )
    for line in TABLE.strip().splitlines()
}


def dots_of(text: str) -> np.ndarray:
    """The dots of a line of text: seven rows, six columns a character; unknown ones are blank."""
    out = np.zeros((ROWS, len(text) * (COLUMNS + 1)), bool)
    for at, one in enumerate(text.upper()):
        if one in GLYPHS:
            out[:, at * 6 : at * 6 + COLUMNS] = GLYPHS[one]
    return out
