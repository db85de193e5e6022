"""The colours of the picture: few, and told apart by colour-blind readers, the blue and the ochre above all."""

PAPER = "#F8F5EE"
INK = "#1B2530"
FAINT = "#5C6670"
RULE = "#DCD6C7"
BLUE = "#24618F"
OCHRE = "#B8721A"
DARK_OCHRE = "#8A5200"
