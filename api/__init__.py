"""The service and the command line. A room looks only at rooms that stand before it in this list.

edge        what every request passes, and how everything that is refused looks
answers     what is asked, and the answer as bytes
http        the routes, their description, and running the service
command     the command line
"""
