"""The pages. A room looks only at rooms that stand before it in this list.

charts.kit      geometry, shapes, scales and SVG that all pictures share
charts.drawing  the fountain to scale
charts          one file a picture
charts.sky      the sky by month, by day, and the sun’s way
exports         tables for spreadsheets
forms           between the texts of the form and a design
pages.frame     what all pages share: templates, links, working
pages.garden    form, sky, weather file
pages.results   what the fountain will do
pages.compare   pumps and panels side by side
pages.reach     what would meet a goal
pages.orientation   which way the panel faces
pages.report    the page to print, parts and prices
pages.measured  what a class measured
routes          the address of each page
"""
