"""Charts that a person explores: figures as plain data for the vendored script in static/vendor/plotly.

Colours come from the page (static/js/chart.js reads the tokens), so that light and dark cannot drift apart.
Every chart has a still picture and a table beside it, and is drawn only when it is opened.
"""
