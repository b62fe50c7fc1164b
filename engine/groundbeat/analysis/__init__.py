"""What must a player do?"""
