"""The numbers read from a photo, as the Method page shows them."""

from metrics.method import Method

_BOOK = "Hartley & Zisserman, Multiple View Geometry, from memory; held to OpenCV in the tests"

METHODS: tuple[Method, ...] = (
    Method(key="photo_ground", label="Ground plane of a photo", unit="",
           formula="homography by normalised direct linear transformation; with more than four points the distance "
                   "in the picture is made smallest",
           valid_range="four or more points, no three on one line", source=_BOOK, mark="memory",
           function="metrics.photo.homography.homography"),
    Method(key="photo_scale", label="Pixels per cm, and how flat the view is", unit="px/cm",
           formula="singular values of the map’s slopes at one point; sin(looking down) = smallest / largest",
           valid_range="points on the ground in front of the camera", source="geometry of a plane", mark="computed",
           function="metrics.photo.homography.local_scales"),
    Method(key="photo_sticks", label="Ground from an L of two sticks", unit="",
           formula="Grunert’s quartic for the distances of three points; the most level camera is taken",
           valid_range="sticks at a right angle, focal length known", source="Grunert 1841, from memory",
           mark="memory", function="metrics.photo.sticks.ground_from_sticks"),
    Method(key="photo_stance", label="Stance, ball, foot line and flare from a photo", unit="cm, °",
           formula="differences along and across the target line; foot line = atan(pull-back / (gap + 7.62 cm)); "
                   "flare = slant of heel to toe − asin(3.81 cm / its length)",
           valid_range="both feet flat on the ground", source="trigonometry; the heel’s width is common practice",
           mark="computed", function="metrics.photo.stance.stance_numbers"),
    Method(key="photo_target", label="Target line from an aim stick in the photo", unit="cm",
           formula="turn of the frame by the angle of the two points", valid_range="a stick shorter than the view",
           source="trigonometry", mark="computed", function="metrics.photo.stance.turned"),
    Method(key="photo_angles", label="Angles in the plane of a photo", unit="°",
           formula="angle of the line between two clicks, from plumb or level; ± = √(3² + (1.96 × clicks and tilt)²)",
           valid_range="camera square to the player, face-on or down the line",
           source="trigonometry; ±3° for the camera’s place is common practice", mark="common practice",
           function="metrics.photo.angles.picture_angles"),
    Method(key="photo_error", label="How sure a number from a photo is", unit="as the number",
           formula="1.96 √Σ(slope × SD)², over clicks (3 px of 3000), lens (0.5 % in the corner), half heel (0.4 cm) "
                   "and focal length (1 %)",
           valid_range="errors small enough for straight slopes", source="propagation of independent errors; held "
           "to drawn clicks in the tests. The SDs are from memory or a choice", mark="computed",
           function="metrics.photo.propagate.half_widths"),
    Method(key="address_check", label="Consistency at address", unit="of the checkpoint",
           formula="bias = mean − wanted, Student t; SD with chi-square interval; share inside with Wilson’s "
                   "interval; mean size of the error",
           valid_range="2 setups or more; the pass mark needs 10", source="any statistics textbook; the pass mark is "
           "common practice", mark="common practice", function="metrics.address.address_check"),
)
