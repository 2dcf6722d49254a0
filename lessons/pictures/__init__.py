"""Pictures as SVG: a dataclass goes in, a string safe for a template comes out.

No picture asks the database, the clock or the request. Values are player-relative (+ is the slice side);
here, at the window, they are turned once for the player's hand. Geometry stands in presentation attributes,
the look in classes of app.css, and no picture carries an inline style.
"""
