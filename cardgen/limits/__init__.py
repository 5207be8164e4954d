"""Checks of a computed rig. Loading the room registers every check, in the order in which findings are told."""

# isort: off
from cardgen.limits import trailer as trailer
from cardgen.limits import vehicle as vehicle
from cardgen.limits import coupling as coupling
from cardgen.limits import fit as fit
from cardgen.limits import own as own
from cardgen.limits import tires as tires
from cardgen.limits import tire_marks as tire_marks
from cardgen.limits import brakes as brakes
from cardgen.limits import equipment as equipment
from cardgen.limits import labels as labels
from cardgen.limits import legal as legal
from cardgen.limits import weighing as weighing
