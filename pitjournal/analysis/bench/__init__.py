"""What the bench must know while the fire burns: alarms and fuel."""
