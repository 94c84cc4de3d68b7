/* The commissioning sheet as a page to print: black on white, both sides of one sheet of A4 or
 * Letter. */
#include "output/html.h"
#include "present/sheet_content.h"

static const char style[] =
    "@page{margin:12mm}\n"
    "body{font:10pt/1.35 Helvetica,Arial,sans-serif;color:#000;background:#fff;max-width:190mm;"
    "margin:0 auto;padding:4mm}\n"
    "h1{font-size:15pt;margin:0}\n"
    "h2{font-size:11pt;margin:3.5mm 0 1mm;border-bottom:1px solid #000}\n"
    ".who{display:flex;flex-wrap:wrap;gap:2mm 6mm;margin:2mm 0}\n"
    ".who span{flex:1 1 40mm;border-bottom:1px dotted #000;min-height:5mm}\n"
    "table{border-collapse:collapse;width:100%}\n"
    "th,td{border:1px solid #777;padding:.7mm 1.5mm;text-align:right}\n"
    "th:first-child,.settings td,.settings th{text-align:left}\n"
    "th{font-weight:400}thead th{font-weight:700}\n"
    "td.blank{width:26mm}\n"
    ".settings{column-count:2;column-gap:6mm;list-style:none;margin:0;padding:0}\n"
    ".settings li{display:flex;justify-content:space-between;border-bottom:1px dotted #777;"
    "break-inside:avoid}\n"
    ".settings b{white-space:nowrap}\n"
    "ol{margin:0;padding-left:6mm}li::marker{font-weight:700}\n"
    "ol li{padding-right:8mm;position:relative}\n"
    "ol li::after{content:\"\";position:absolute;right:0;top:.5mm;width:3mm;height:3mm;"
    "border:1px solid #000}\n"
    ".note{margin:1mm 0}\n"
    ".letters{list-style:lower-alpha}\n"
    ".outcomes td,.outcomes th{text-align:left}.outcomes td:nth-child(-n+2){white-space:nowrap}\n"
    // white on black says it on any printer
    ".stop{border:1.2mm solid #000;padding:0 3mm 2mm;margin:2mm 0;break-inside:avoid}\n"
    ".stop h2{background:#000;color:#fff;margin:0 -3mm 2mm;padding:1mm 3mm;font-size:13pt;"
    "print-color-adjust:exact;-webkit-print-color-adjust:exact}\n"
    ".stop ul{margin:0;padding-left:5mm}\n"
    "section,li,tr{break-inside:avoid}h2{break-after:avoid}\n"
    // a phone scrolls the table, not the page
    ".wide{overflow-x:auto;padding-right:1px}\n"
    "@media print{body{padding:0 "
    "1px;max-width:none;font-size:9.4pt;line-height:1.3}.wide{overflow:visible}}\n";

static void write_head(FILE *stream, const struct sheet_content *content)
{
    (void)fputs("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
                "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n<title>",
                stream);
    html_format(stream, "Commissioning sheet: %s", content->title);
    (void)fprintf(stream, "</title>\n<style>\n%s</style></head><body>\n<h1>", style);
    html_format(stream, "Commissioning sheet: %s", content->title);
    (void)fputs("</h1>\n<div class=\"who\"><span>place</span><span>date</span>"
                "<span>name</span></div>\n",
                stream);
}

static void write_settings(FILE *stream, const struct sheet_content *content)
{
    (void)fputs("<h2>Settings, ", stream);
    html_text(stream, content->strategy);
    (void)fputs("</h2>\n<ul class=\"settings\">\n", stream);
    for (size_t i = 0; i < content->setting_count; i++) {
        (void)fputs("<li><span>", stream);
        html_text(stream, content->setting[i].label);
        (void)fputs("</span><b>", stream);
        html_text(stream, content->setting[i].value);
        (void)fputs("</b></li>\n", stream);
    }
    (void)fputs("</ul>\n", stream);
}

/* Words in a list, a mark to tick behind each. */
static void write_step(FILE *stream, const char *words)
{
    (void)fputs("<li>", stream);
    html_text(stream, words);
    (void)fputs("</li>\n", stream);
}

static void write_steps(FILE *stream, const struct sheet_content *content, size_t from, size_t to)
{
    (void)fprintf(stream, "<ol start=\"%zu\">\n", from + 1);
    for (size_t i = from; i < to; i++) {
        write_step(stream, content->step[i]);
    }
    (void)fputs("</ol>\n", stream);
}

static void write_note(FILE *stream, const char *words)
{
    (void)fputs("<p class=\"note\">", stream);
    html_text(stream, words);
    (void)fputs("</p>\n", stream);
}

static void write_readings(FILE *stream, const struct sheet_content *content)
{
    (void)fputs("<section><h2>Readings</h2>\n", stream);
    write_note(stream, content->taps);
    (void)fputs("<div class=\"wide\"><table><thead><tr><th scope=\"col\">reading</th>", stream);
    for (size_t i = 0; i < content->column_count; i++) {
        (void)fputs("<th scope=\"col\">", stream);
        html_text(stream, content->head[i]);
        (void)fputs("</th>", stream);
    }
    (void)fputs("<th scope=\"col\">measured</th></tr></thead>\n<tbody>\n", stream);
    for (size_t i = 0; i < content->reading_count; i++) {
        (void)fputs("<tr><th scope=\"row\">", stream);
        html_text(stream, content->reading[i].label);
        (void)fputs("</th>", stream);
        for (size_t j = 0; j < content->column_count; j++) {
            (void)fputs("<td>", stream);
            html_text(stream, content->reading[i].value[j]);
            (void)fputs("</td>", stream);
        }
        (void)fputs("<td class=\"blank\"></td></tr>\n", stream);
    }
    (void)fputs("</tbody></table></div></section>\n", stream);
}

static void write_outcomes(FILE *stream, const struct sheet_content *content)
{
    (void)fputs("<div class=\"wide\"><table class=\"outcomes\"><thead><tr>"
                "<th scope=\"col\">house valve open</th><th scope=\"col\">shut</th>"
                "<th scope=\"col\">what it means</th></tr></thead>\n<tbody>\n",
                stream);
    for (size_t i = 0; i < content->outcome_count; i++) {
        (void)fprintf(stream, "<tr><td>%s</td><td>%s</td><td>", content->outcome[i].open,
                      content->outcome[i].shut);
        html_text(stream, content->outcome[i].means);
        (void)fputs("</td></tr>\n", stream);
    }
    (void)fputs("</tbody></table></div>\n", stream);
}

static void write_leak_test(FILE *stream, const struct sheet_content *content)
{
    (void)fputs("<section><h2>" SHEET_LEAK_TEST "</h2>\n<ol class=\"letters\">\n", stream);
    for (size_t i = 0; i < content->test_count; i++) {
        write_step(stream, content->test[i]);
    }
    (void)fputs("</ol>\n", stream);
    if (content->outcome_count > 0) {
        write_note(stream, content->why);
        write_outcomes(stream, content);
    }
    (void)fputs("</section>\n", stream);
}

static void write_box(FILE *stream, const struct sheet_content *content)
{
    if (content->reason_count > 0) {
        (void)fputs("<div class=\"stop\"><h2>" SHEET_BOX "</h2>\n<ul>\n", stream);
        for (size_t i = 0; i < content->reason_count; i++) {
            write_step(stream, content->reason[i]);
        }
        (void)fputs("</ul></div>\n", stream);
    }
    if (content->judged[0] != '\0') {
        write_note(stream, content->judged);
    }
}

void sheet_write_html(FILE *stream, const struct sheet_content *content)
{
    write_head(stream, content);
    write_box(stream, content);
    write_settings(stream, content);
    (void)fputs("<h2>" SHEET_POWER_OFF "</h2>\n", stream);
    write_steps(stream, content, 0, content->power_on);
    (void)fprintf(stream, "<h2>%s%s</h2>\n", SHEET_POWER_ON,
                  content->reason_count > 0 ? SHEET_NOT_YET : "");
    write_steps(stream, content, content->power_on, content->step_count);
    write_readings(stream, content);
    write_leak_test(stream, content);
    (void)fputs("<p class=\"note\">A simulation replaces neither measurement nor judgement.</p>\n"
                "<div class=\"who\"><span>remarks</span></div>\n"
                "<div class=\"who\"><span>signed</span></div>\n</body></html>\n",
                stream);
}
