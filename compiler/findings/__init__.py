"""What a finding is, which rules there are, how a finding is printed and explained."""
