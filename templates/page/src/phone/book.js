// The book that stands in this page as data.
const data = document.getElementById('book').textContent;
export const book = JSON.parse(data);

export const pieces = new Map(book.sections.flatMap((section) => section.pieces.map((piece) => [piece.piece, piece])));
