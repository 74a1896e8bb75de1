"""What writes into the coach's own folder, each change shown first."""
