// SPDX-License-Identifier: BSD-3-Clause
/* What the page's scripts take from those of the replaying pages (apps/page) and the charting library. */
declare var data: any;
declare var units: string;
declare const show: { [kind: string]: (value: number) => string };
declare function quantity(kind: string, value: any): string;
declare function isAbsent(value: any): boolean;
declare const charts: { [id: string]: any };
declare const lab: any;
declare function temperatureChart(id: string, cook: any, cursor?: number, band?: any): void;
declare function changesChart(id: string, cooks: any[]): void;
declare function balanceChart(id: string, cook: any): void;
declare function commonChart(id: string, explanation: any): void;
declare function beginLab(): void;
declare function listenToLab(): void;
declare function showLab(): void;
declare const tables: { [id: string]: any };
declare const marks: any;
declare function line(label: string, number: number, points: any[], more?: any): any;
declare function bandLines(band: any): any[];
declare function chartOptions(scales: any, more?: any): any;
declare function axis(title: string, more?: any): any;
declare function hourAxis(): any;
declare function degree(): string;
declare function axisTemperature(kelvin: number): number;
declare function makeChart(id: string, config: any, label: string): void;
