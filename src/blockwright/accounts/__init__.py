"""People who sign in: users and invitations. Knows nothing of lifters; never imports the engine."""
