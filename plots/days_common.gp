# What the charts of many days share: the strategies with what the summary tells of them, the title.

summary_heads = heads_of('days-summary.csv')
strategies = strategies_of('days-summary.csv')
strategy_count = words(strategies)
title_text = title_of('days-summary.csv', commas_in(summary_heads) - 1)
# another scenario's results have come into the folder since: these days are not of it
day_title = title_of('settings.csv', settings_columns)
days_are_old = strlen(day_title) > 0 && day_title[1 : strlen(title_text)] ne title_text

# what the summary tells of each strategy, by its place
array days_run[strategy_count]
array failing[strategy_count]
array least_share[strategy_count]
array most_share[strategy_count]
starts_limit = NaN; tap_limit = NaN
place = 0
stats 'days-summary.csv' using (place = index_of(strcol('strategy')), place < 1 ? 0 : ( \
    days_run[place] = column('days'), failing[place] = column('failing'), \
    least_share[place] = column('failing_least'), most_share[place] = column('failing_most'), \
    starts_limit = column('starts_limit'), tap_limit = column(head_in(summary_heads, 'tap_limit')), 0)) nooutput
