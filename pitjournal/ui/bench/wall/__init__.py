"""The bench at arm's length: what can be read from three metres and tapped in gloves."""
