// What every book has at its top: paper, fonts, spacing and the small markup commands that pages are made of.
#pragma once

#include <string_view>

namespace shedbook {

// For `(set-default-paper-size "...")`, put in front of it by the writer.
inline constexpr std::string_view kLilypondStyle = R"ly(
#(set-global-staff-size 20.5)
#(ly:set-option 'point-and-click #f)
\paper {
  two-sided = ##t
  inner-margin = 18\mm  outer-margin = 14\mm
  top-margin = 11\mm    bottom-margin = 10\mm
  indent = 0  short-indent = 0
  ragged-right = ##f  ragged-last = ##f
  ragged-bottom = ##f ragged-last-bottom = ##f
  bookpart-level-page-numbering = ##t
  shedpart = ##f
  print-first-page-number = ##t
  #(define fonts (set-global-fonts #:roman "C059" #:sans "Nimbus Sans" #:factor (/ staff-height pt 20)))
  system-system-spacing = #'((basic-distance . 10.5) (minimum-distance . 8.5) (padding . 1.6) (stretchability . 10))
  score-system-spacing  = #'((basic-distance . 13) (padding . 2) (stretchability . 20))
  score-markup-spacing  = #'((basic-distance . 8.5) (padding . 2.2) (stretchability . 40))
  markup-system-spacing = #'((basic-distance . 0) (padding . 0.9) (stretchability . 0))
  markup-markup-spacing = #'((basic-distance . 1) (padding . 1.6) (stretchability . 4))
  top-markup-spacing    = #'((basic-distance . 0) (padding . 0) (stretchability . 0))
  top-system-spacing    = #'((basic-distance . 0) (padding . 0) (stretchability . 0))
  last-bottom-spacing   = #'((basic-distance . 7) (padding . 4) (stretchability . 100))
  bookTitleMarkup = ##f
  oddHeaderMarkup = ##f  evenHeaderMarkup = ##f
  scoreTitleMarkup = \markup \column {
    \fill-line {
      \concat { \fromproperty #'header:number \fromproperty #'header:dname }
      \fromproperty #'header:ticks
    } }
  % The code beside a page's number stands at one place whatever the number and the words beside it: it may be laid
  % over the page later, as a page that has nothing else.
  #(define-markup-command (footline layout props line) (markup?)
    (let ((s (interpret-markup layout props line)))
      (ly:make-stencil (ly:stencil-expr s) (ly:stencil-extent s X) '(-0.6 . 1.6))))
  footrule = \markup \column { \if \should-print-page-number \draw-hline
                               \unless \should-print-page-number \transparent \draw-hline }
  footnumber = \markup \if \should-print-page-number
    \sans \bold \fontsize #-1 \fromproperty #'page:page-number-string
  footslot = \markup \right-align \transparent \sans \bold \fontsize #-1 "000"
  oddFooterMarkup = \markup \column { \footrule \vspace #0.15
    \footline \fill-line { \sans \fontsize #-3 \fromproperty #'header:foottune
                 \sans \fontsize #-3 \fromproperty #'header:footpart
                 \concat { \sans \fontsize #-3 \fromproperty #'header:footcode \hspace #0.8
                           \combine \footslot \right-align \footnumber } } }
  evenFooterMarkup = \markup \column { \footrule \vspace #0.15
    \footline \fill-line { \concat { \combine \left-align \footslot \footnumber
                           \hspace #0.8 \sans \fontsize #-3 \fromproperty #'header:footcode }
                 \sans \fontsize #-3 \fromproperty #'header:footpart
                 \sans \fontsize #-3 \fromproperty #'header:foottune } }
}
% Raising is absolute in the engraver; \up raises in the size of the text around it.
#(define-markup-command (up layout props amount arg) (number? markup?)
  #:properties ((font-size 0))
  (interpret-markup layout props (make-raise-markup (* amount (magstep font-size)) arg)))
sh = \markup \up #0.62 \fontsize #-2.5 \sharp
fl = \markup \up #0.42 \fontsize #-2 \flat
shf = \markup \up #0.46 \fontsize #-2.5 \sharp
flf = \markup \up #0.31 \fontsize #-2 \flat
gap = \markup \up #0 \fontsize #0 \hspace #0.15
#(define-markup-command (ql layout props txt) (markup?)
  (interpret-markup layout props #{ \markup \concat { \hspace #0.12 \fontsize #-2 $txt } #}))
#(define-markup-command (fig layout props txt) (markup?)
  (interpret-markup layout props #{ \markup \concat { \gap \up #0.50 \fontsize #-2.5 $txt } #}))
bx = \markup \path #0.14 #'((moveto 0 0)(lineto 1.75 0)(lineto 1.75 1.75)(lineto 0 1.75)(closepath))
#(define-markup-command (tick layout props txt) (markup?)
  (interpret-markup layout props
    #{ \markup \concat { \hspace #2.2 \translate #'(0 . -0.25) \bx \hspace #0.6 \sans \fontsize #-2 $txt } #}))
#(define-markup-command (closetick layout props txt) (markup?)
  (interpret-markup layout props
    #{ \markup \concat { \hspace #0.7 \translate #'(0 . -0.25) \bx \hspace #0.4 \sans \fontsize #-2.5 $txt } #}))
#(define-markup-command (dnum layout props txt) (markup?)
  (interpret-markup layout props #{ \markup \concat { \sans \bold \fontsize #0 $txt \hspace #1.4 } #}))
#(define-markup-command (drillname layout props txt) (markup?)
  (interpret-markup layout props #{ \markup \sans \fontsize #0 $txt #}))
% A touch or a click goes to that page.
#(define-markup-command (toPage layout props page arg) (number? markup?)
  (interpret-markup layout props (make-page-link-markup page arg)))
ns = \markup \concat { \hspace #0.14 \up #0.5 \fontsize #-3 \sharp \hspace #0.06 }
nf = \markup \concat { \hspace #0.08 \up #0.3 \fontsize #-3 \flat \hspace #0.12 }
% As wide as there is room for, and no wider.
#(define-markup-command (within layout props width arg) (number? markup?)
  (let* ((drawn (interpret-markup layout props arg))
         (share (/ width (max width (interval-length (ly:stencil-extent drawn X))))))
    (ly:stencil-scale drawn share share)))
#(define-markup-command (why layout props symbol name notes reason page) (markup? markup? markup? markup? markup?)
  (interpret-markup layout props
    #{ \markup \combine \hspace #48 \concat {
         \combine \hspace #11.7 \within #11.7 \sans \bold \fontsize #1.5 $symbol \hspace #0.8
         \override #'(baseline-skip . 2.35) \left-column {
           \combine \hspace #34.5 \line { \sans \fontsize #-0.5 $name \sans \fontsize #-2.5 $page }
           \sans \fontsize #-1 $notes
           \fontsize #-1.5 \italic $reason } } #}))
\layout {
  indent = 0
  \context { \Score
    \override NonMusicalPaperColumn.page-break-permission = ##f
    \override NonMusicalPaperColumn.line-break-permission = ##f
    \override SpacingSpanner.common-shortest-duration = #(ly:make-moment 1/8)
    \omit BarNumber
    \override TupletBracket.bracket-visibility = #'if-no-beam
  }
  \context { \Voice
    \override Slur.details.accidental-collision = #100
    % Arched where a tie is flat: both stand side by side.
    \override Slur.height-limit = #3.2
    \override Slur.ratio = #0.5
    \override Tie.minimum-length = #2.2
    \override TextScript.outside-staff-padding = #0.7
    \override BreathingSign.outside-staff-priority = #100
    \override BreathingSign.outside-staff-padding = #0.3
    \override BreathingSign.extra-spacing-width = #'(-0.3 . 0.6) }
  \context { \Staff \omit TimeSignature \accidentalStyle default
     ottavationMarkups = #ottavation-ordinals
     \override StaffSymbol.thickness = #1 }
  \context { \Lyrics
    \override LyricText.self-alignment-X = #LEFT
    \override LyricText.font-family = #'sans
    \override LyricText.font-series = #'bold
    \override LyricText.font-size = #1.5
    \override LyricText.parent-alignment-X = #LEFT
    \override VerticalAxisGroup.staff-affinity = #DOWN
    \override VerticalAxisGroup.nonstaff-relatedstaff-spacing = #'((basic-distance . 4.4) (padding . 0.9))
    \override LyricSpace.minimum-distance = #1.3
  }
}
#(define-markup-command (onstring layout props string fret) (markup? markup?)
  (interpret-markup layout props
    #{ \markup \concat { \override #'(circle-padding . 0.12) \fontsize #-2.5 \circle $string \hspace #0.15 $fret } #}))
fingeringRow = \with {
  \override LyricText.font-series = #'medium
  \override LyricText.font-size = #-2
  \override LyricText.self-alignment-X = #CENTER
  \override LyricText.parent-alignment-X = #CENTER
  \override VerticalAxisGroup.staff-affinity = #UP
  \override VerticalAxisGroup.nonstaff-relatedstaff-spacing = #'((basic-distance . 3.5) (padding . 0.5))
  \override LyricSpace.minimum-distance = #0.55
}
shapeRow = \with {
  \fingeringRow
  \override LyricSpace.minimum-distance = #2.6
}
slashed = { \once \override NoteHead.style = #'slash \once \omit Stem \once \omit Flag \once \omit Dots }
rhythmSlash = { \once \override NoteHead.style = #'slash }
percentBar = #(define-music-function (bar) (ly:music?) (make-music 'PercentEvent 'length (ly:music-length bar)))
letter = #(define-music-function (l) (markup?)
  #{ \set Staff.instrumentName = \markup \override #'(box-padding . 0.45) \box \sans \bold \fontsize #1 $l #})
changesLayout = \layout {
  indent = 9\mm  short-indent = 9\mm
  \context { \Staff \undo \omit TimeSignature \numericTimeSignature \override InstrumentName.self-alignment-X = #LEFT }
  \context { \Score \override NonMusicalPaperColumn.page-break-permission = #'allow
    \undo \omit BarNumber \override BarNumber.font-size = #-3 \override BarNumber.font-family = #'sans
    \override VoltaBracket.font-family = #'sans \override VoltaBracket.font-size = #-2
    \override VoltaBracket.font-encoding = #'latin1 \override VoltaBracketSpanner.outside-staff-padding = #1.5 }
}
meterLayout = \layout { \context { \Staff \undo \omit TimeSignature \numericTimeSignature } }
lineLayout = \layout {
  \context { \Staff \undo \omit TimeSignature \numericTimeSignature }
  \context { \Score \override NonMusicalPaperColumn.page-break-permission = #'allow
    \undo \omit BarNumber \override BarNumber.font-size = #-3 \override BarNumber.font-family = #'sans }
}
)ly";

// For parts that are set each by itself: the page is one of the whole book, found when they are joined.
inline constexpr std::string_view kLinksToBook = R"ly(
#(define-markup-command (toPage layout props page arg) (number? markup?)
  (interpret-markup layout props (make-with-url-markup (format #f "shedbook:page/~a" page) arg)))
)ly";

// What the engraver says of each part when its pages are set, a line each: what stands over the margins, how
// full every page is, and the key of the part with the number of its pages.
inline constexpr std::string_view kLilypondReport = R"ly(
#(define (shed-say . words)
  (apply format (current-error-port) words)
  (force-output (current-error-port)))
#(define (shed-ink line axis)
  (let ((stencil (ly:prob-property line 'stencil)))
    (if (and (ly:stencil? stencil) (not (ly:stencil-empty? stencil)))
        (ly:stencil-extent stencil axis)
        '(0 . 0))))
#(define (shed-measure-line line width)
  (let* ((ink (shed-ink line X))
         (is-text (ly:prob-property line 'is-title #f))
         (over (max (- (cdr ink) width) (- (+ (car ink) (if is-text 0 1.5))))))
    (if (> over 0.4) (shed-say "shedbook-wide ~,4f\n" (/ (+ width over) width)))))
#(define (shed-measure-page page layout)
  (let* ((lines (ly:prob-property page 'lines))
         (offsets (ly:prob-property page 'configuration))
         (number (ly:prob-property page 'page-number))
         (bottom (- (ly:output-def-lookup layout 'paper-height) (ly:output-def-lookup layout 'bottom-margin)))
         (lowest (if (null? lines) 0 (- (car (last-pair offsets)) (car (shed-ink (car (last-pair lines)) Y))))))
    (for-each (lambda (line) (shed-measure-line line (ly:output-def-lookup layout 'line-width))) lines)
    (shed-say "shedbook-page ~a ~,2f\n" number (/ lowest bottom))))
\paper { page-post-process = #(lambda (layout pages)
  (for-each (lambda (page) (shed-measure-page page layout)) pages)
  (shed-say "shedbook-part ~a ~a\n" (ly:output-def-lookup layout 'shedpart) (length pages))) }
)ly";

}  // namespace shedbook
