"""Tables that ship with the project; README.md beside this file says where each comes from."""
