"""The parts pages are made of: buttons, words, forms, keypad, hands, marks. They know no page."""
