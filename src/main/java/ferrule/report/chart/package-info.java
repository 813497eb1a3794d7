/**
 * Charts as SVG, made on the server, in the house style.
 *
 * <p>What tells one line from another is its dash and its marker, never its colour alone, and it is named where it ends or
 * in a key beneath; so a chart can be read in greyscale and on paper. Letters keep their size: a chart is drawn once for
 * a wide screen and paper, once for a narrow screen. The numbers stand in a table beneath, which is the page's.
 *
 * <p>Plain values in, text out. Start at {@link ferrule.report.chart.LineChart}.
 */
package ferrule.report.chart;
